/// @file
/// What the running engine leaves behind tells of the machine as it last ran.
#include <catch2/catch.hpp>

#include "engine/plan/proposal.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::evidence_left_by_running_test {
namespace {

using test::JobWriter;

JobWriter repaired() {
  JobWriter job(test::shipped_sheet("four-inline"));
  job.record("speed-hangs", "clear").repair("clean-pilot", {3});
  return job;
}

bool offered(const JobWriter& job, const std::string& finding, std::size_t cylinder) {
  const Diagnosis& diagnosis = test::diagnose(job);
  const pack::Pack& pack = diagnosis.model().pack;
  const auto all = plan::options(diagnosis.workshop(), diagnosis.evidence(),
                                 diagnosis.evidence().open_layers, {});
  return std::any_of(all.begin(), all.end(), [&](const plan::Proposal& one) {
    return one.kind == plan::ActionKind::check &&
           pack.findings[pack.checks[one.index].finding].id == finding &&
           std::find(one.places.begin(), one.places.end(),
                     Place{pack::Scope::cylinder, cylinder}) != one.places.end();
  });
}

}  // namespace

TEST_CASE("nobody is sent to read a plug that has not seen the repair", "[evidence][plan]") {
  JobWriter found(test::shipped_sheet("four-inline"));
  found.record("speed-hangs", "clear");
  CHECK(offered(found, "plug-pale", 3));
  CHECK_FALSE(offered(repaired(), "plug-pale", 3));
  CHECK(offered(repaired(), "plug-pale", 2));  // nothing was repaired there
  JobWriter run = repaired();
  run.verify("still");
  CHECK(offered(run, "plug-pale", 3));
}

}  // namespace tickover::evidence_left_by_running_test
