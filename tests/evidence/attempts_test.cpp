/// @file
/// Repairs of one cause, one after the other: new luck each, or one threshold to pass.
#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::evidence_attempts_test {
namespace {

using test::JobWriter;

/// Of the last repair of a split rubber.
double success_of_last(const JobWriter& writer) {
  const Diagnosis& job = test::diagnose(writer);
  const std::size_t split = test::cause_instance(job.model(), "intake-rubber-cracked@1");
  double success = 0;
  for (const RepairDone& done : job.evidence().repairs) {
    if (done.cause == split) success = done.success;
  }
  return success;
}

JobWriter hunting() {
  JobWriter job(test::shipped_sheet("single"));
  job.record("idle-hunts", "clear");
  return job;
}

}  // namespace

TEST_CASE("repairs that are new luck each succeed as often as the first", "[evidence][attempts]") {
  Attempts attempts(1);
  for (int i = 0; i < 4; ++i) CHECK(attempts.make(3, 0.7) == Approx(0.7));
  CHECK(attempts.left(3, 0.9) == Approx(0.9));
}

TEST_CASE("where a failure lasts only a better repair helps", "[evidence][attempts]") {
  Attempts attempts(0);
  CHECK(attempts.make(0, 0.75) == Approx(0.75));
  CHECK(attempts.left(0, 0.75) == Approx(0));
  CHECK(attempts.left(0, 0.5) == Approx(0));
  CHECK(attempts.left(0, 0.9) == Approx((0.9 - 0.75) / 0.25));  // of the thresholds left
  CHECK(attempts.left(1, 0.75) == Approx(0.75));                // another cause
}

/// P(still there) after each repair is the mean over the two worlds.
TEST_CASE("attempts mix lasting failures and new luck", "[evidence][attempts]") {
  const double again = 0.2;
  Attempts attempts(again);
  double kept = 1, all_fail = 1, best = 0;
  for (const double success : {0.6, 0.5, 0.9, 0.6}) {
    kept *= 1 - attempts.make(0, success);
    all_fail *= 1 - success;
    best = std::max(best, success);
    CHECK(kept == Approx(again * all_fail + (1 - again) * (1 - best)));
  }
}

TEST_CASE("what never fails leaves nothing to do", "[evidence][attempts]") {
  Attempts attempts(0.2);
  CHECK(attempts.make(0, 1) == 1);
  CHECK(attempts.left(0, 0.5) == 0);
}

TEST_CASE("a repair done again counts for less, until its cause is looked at",
          "[evidence][attempts]") {
  const double first = success_of_last(hunting().repair("renew-intake-rubber"));
  JobWriter again = hunting().repair("renew-intake-rubber").verify("still");
  const double second = success_of_last(JobWriter(again).repair("renew-intake-rubber"));
  CHECK(second < 0.3 * first);
  again.strip({"carburettors"}).record("rubber-check-off", "split");
  CHECK(success_of_last(again.repair("renew-intake-rubber")) == Approx(first));
}

}  // namespace tickover::evidence_attempts_test
