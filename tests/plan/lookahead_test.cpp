/// @file
/// Looking ahead over scenarios starts from what is known exactly.
#include "engine/plan/lookahead.hpp"

#include <catch2/catch.hpp>

#include "engine/plan/leaves.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::plan_lookahead_test {
namespace {

using test::JobWriter;

JobWriter hanging(const std::string& machine, const std::string& risk) {
  JobWriter job(test::shipped_sheet(machine), {risk});
  job.record("speed-hangs", "clear");
  return job;
}

// What the scenarios' own course would cost more than the exact one would be put to the credit of
// whatever is looked into: it did, when they planned with less patience. 600 draws err by some
// per cent.
TEST_CASE("the scenarios' course costs what the exact one costs", "[plan][lookahead]") {
  for (const std::string machine : {"four-inline", "triple-inline", "single"}) {
    for (const std::string risk : {"old-rubber", "long-storage"}) {
      CAPTURE(machine, risk);
      const Diagnosis& job = test::diagnose(hanging(machine, risk));
      const belief::Case given = job.given();
      const belief::Belief base = belief::infer(given);
      plan::Leaves leaves(job.workshop(), job.evidence(), given,
                          job.ground().nodes_of(job.evidence().complaint), true);
      leaves.start(base);
      plan::Lookahead ahead(job.workshop(), job.ground(), job.evidence(), leaves.done(),
                            leaves.sample(), leaves.now());
      ahead.start(leaves.now(), true);
      CHECK(ahead.course_minutes() == Approx(leaves.now().expected_minutes).epsilon(0.05));
    }
  }
}

// Two repairs in turn, nothing to learn but that it is still there: planning anew after the first
// in vain can save nothing, whatever a comeback costs.
TEST_CASE("a comeback is paid for when it is planned anew too", "[plan][lookahead]") {
  test::SmallPack small(20, 6000);
  small.pack.frame.verify_misses = test::number(0.5);
  small.cause(0.3);
  small.cause(0.2);
  small.symptom(0, {{0, 1}, {1, 1}});
  small.repair({{{0, 1}}, {300, 0}, {}});
  small.repair({{{1, 1}}, {300, 0}, {}});
  JobWriter writer(test::plain_sheet());
  writer.record(small.pack.findings[0].id, small.pack.findings[0].levels.back());
  const Diagnosis job(small.pack, writer.journal(), test::machine_schema(), "test");
  plan::Shop shop;
  shop.prices.emplace();
  shop.prices->comeback = 200;  // at one a minute
  const plan::Workshop there(job.model(), shop);
  REQUIRE(there.comeback_minutes() == Approx(100));
  const belief::Case given = job.given();
  const belief::Belief base = belief::infer(given);
  plan::Leaves leaves(there, job.evidence(), given, job.complaint(), true);
  leaves.start(base);
  REQUIRE(leaves.now().batches.size() == 2);
  plan::Lookahead ahead(there, job.ground(), job.evidence(), leaves.done(), leaves.sample(),
                        leaves.now());
  ahead.start(leaves.now(), true);
  CHECK(ahead.farther_course() == Approx(0).margin(1e-6));
}

}  // namespace
}  // namespace tickover::plan_lookahead_test
