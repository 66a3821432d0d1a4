/// @file
/// A complaint that several repairs, each verified, left as it was.
#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_verified_test {
namespace {

/// Hunting, better with choke (a test that a dead starter plunger spoils), on a four; after each
/// repair the road test finds both as they were.
test::JobWriter still_after(const std::vector<std::string>& repairs) {
  test::JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear").record("better-with-choke", "clear");
  for (const std::string& repair : repairs) job.repair(repair).verify("still");
  return job;
}

const std::vector<std::string> kInVain = {"renew-fuel", "seal-airbox", "balance-carburettors",
                                          "renew-fuel", "seal-airbox", "balance-carburettors",
                                          "renew-fuel"};

}  // namespace

TEST_CASE("what was seen again and again is believed exactly", "[plan][verified]") {
  for (std::size_t count = 0; count <= kInVain.size(); ++count) {
    CAPTURE(count);
    const Diagnosis& job =
        test::diagnose(still_after({kInVain.begin(), kInVain.begin() + static_cast<long>(count)}));
    CHECK(job.infer().exact);
    CHECK(belief::cured(job.given(), job.complaint(), {}) < 0.03);
  }
}

TEST_CASE("nothing is verified again before a repair", "[plan][verified]") {
  const Diagnosis& job = test::diagnose(still_after(kInVain));
  const plan::Advice advice = job.advise();
  for (const plan::Proposal& one : advice.proposals) {
    CHECK(one.kind != plan::ActionKind::verify);
  }
  for (const plan::Batch& batch : advice.course_now.batches) CHECK_FALSE(batch.steps.empty());
}

}  // namespace tickover::plan_verified_test
