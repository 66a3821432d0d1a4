/// @file
/// From a journal to a case: epochs at which something may have come or gone.
#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::belief_ground_test {
namespace {

using test::JobWriter;

/// An in-line four with two symptoms, of which cleaning the pilot jets explains only one.
JobWriter wrong_repair() {
  JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear").record("bars-change-speed", "yes");
  job.repair("clean-pilot", {1, 2, 3, 4});
  return job;
}

}  // namespace

// A mechanic meets it: mended one thing, and all of the complaint is gone.
TEST_CASE("a complaint gone after a repair that does not explain it is no contradiction",
          "[belief][ground]") {
  JobWriter writer = wrong_repair();
  const Diagnosis before = test::diagnose(writer);
  const double promised = belief::cured(before.given(), before.complaint(), {});
  CHECK(promised > 0);
  writer.verify("gone");
  const Diagnosis after = test::diagnose(writer);
  const belief::Belief belief = after.infer();
  CHECK_FALSE(belief.contradiction);
  CHECK(belief.exact);
}

TEST_CASE("what may have faded is only what was present and is absent later", "[belief][ground]") {
  JobWriter writer = wrong_repair();
  CHECK(test::diagnose(writer).given().fades.empty());
  writer.verify("gone");
  const Diagnosis job = test::diagnose(writer);
  const belief::Case given = job.given();
  CHECK(given.fades.size() == job.complaint().size());
  CHECK(std::all_of(given.fades.begin(), given.fades.end(),
                    [](const belief::Window& one) { return one.epoch == 1; }));
  CHECK(given.windows.empty());
}

// Nothing came or went for the sensor: one bit for both epochs, so the answer stays exact.
TEST_CASE("readings taken again after a repair that cannot move them cost no width",
          "[belief][ground]") {
  JobWriter writer(test::shipped_sheet("four-inline"));
  writer.record("speed-hangs", "clear").record("float-height", "19 mm", {3});
  const std::size_t once = test::diagnose(writer).infer().width;
  writer.repair("clean-pilot", {1}).record("float-height", "19.1 mm", {3});
  const belief::Belief twice = test::diagnose(writer).infer();
  CHECK(twice.exact);
  CHECK(twice.width == once);
}

// One carburettor for both cylinders starves both: a pipe that stays colder than the other tells
// of what that cylinder has for itself.
TEST_CASE("what all cylinders share hardly shows at one of them more than at its siblings",
          "[belief][ground]") {
  const auto strength = [](const std::string& machine, const std::string& cause) {
    const Diagnosis job = test::diagnose(JobWriter(test::shipped_sheet(machine)));
    const std::size_t c = test::cause_instance(job.model(), cause);
    const FindingInstance& cold = test::finding_instance(job.model(), "cold-header@2");
    for (const LinkInstance& link : cold.links) {
      if (link.cause == c) return strength_of(job.model().pack.findings[cold.finding], link);
    }
    return std::vector<double>{};
  };
  const std::vector<double> shared = strength("twin-parallel", "pilot-jet-blocked@1"),
                            own = strength("twin-v", "pilot-jet-blocked@2");
  REQUIRE(shared.size() == own.size());
  const double share = test::shipped_pack().shown_apart.value;
  CHECK(share < 0.5);
  for (std::size_t i = 0; i < own.size(); ++i) CHECK(shared[i] == Approx(share * own[i]));
  CHECK(strength("twin-parallel", "spark-weak@2") == strength("twin-v", "spark-weak@2"));

  const auto chance = [](const std::string& cause) {
    JobWriter job(test::shipped_sheet("twin-parallel"));
    job.record("cold-header", "cold", {2}).record("cold-header", "none", {1});
    const Diagnosis read = test::diagnose(job);
    return read.infer().present_now[test::cause_instance(read.model(), cause)];
  };
  CHECK(chance("spark-weak@2") > chance("pilot-jet-blocked@1"));
}

}  // namespace tickover::belief_ground_test
