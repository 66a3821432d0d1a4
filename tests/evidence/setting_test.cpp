/// @file
/// Settings keep the trace of what somebody once compensated.
#include <catch2/catch.hpp>

#include "engine/evidence/evidence.hpp"
#include "engine/trail/trail.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::evidence_setting_test {
namespace {

using test::JobWriter;

JobWriter four() {
  JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear");
  return job;
}

double start(const JobWriter& job, const std::string& cause) {
  const Diagnosis diagnosis = test::diagnose(job);
  return diagnosis.infer().present_at_start[test::cause_instance(diagnosis.model(), cause)];
}

double now(const JobWriter& job, const std::string& cause) {
  const Diagnosis diagnosis = test::diagnose(job);
  return diagnosis.infer().present_now[test::cause_instance(diagnosis.model(), cause)];
}

}  // namespace

TEST_CASE("a screw opened far speaks for an older lean cause there, not for a lean screw",
          "[evidence][setting]") {
  const JobWriter before = four();
  JobWriter opened = four();
  opened.record("mixture-screw-turns", "3 3/4", {2});
  for (const std::string cause : {"pilot-jet-blocked", "intake-rubber-cracked",
                                  "intake-clamp-loose", "progression-holes-blocked"}) {
    CAPTURE(cause);
    CHECK(now(opened, cause + "@2") > 1.3 * now(before, cause + "@2"));
    CHECK(now(opened, cause + "@3") <= now(before, cause + "@3"));
  }
  CHECK(now(opened, "pilot-screw-lean@2") < now(before, "pilot-screw-lean@2"));
}

TEST_CASE("until it is set anew the screw tells of the machine as found", "[evidence][setting]") {
  JobWriter found = four(), later = four();
  found.record("mixture-screw-turns", "3 3/4", {2}).repair("renew-intake-rubber", {2});
  later.repair("renew-intake-rubber", {2}).record("mixture-screw-turns", "3 3/4", {2});
  CHECK(start(later, "intake-rubber-cracked@2") == Approx(start(found, "intake-rubber-cracked@2")));
  CHECK(now(later, "pilot-jet-blocked@2") == Approx(now(found, "pilot-jet-blocked@2")));

  JobWriter set = four();
  set.repair("renew-intake-rubber", {2}).repair("reset-pilot-screw", {2});
  set.record("mixture-screw-turns", "3 3/4", {2});
  CHECK(test::diagnose(set).evidence().observations.back().epoch == 2);
  // it had to be opened that far although the rubber is new: something else is lean
  CHECK(now(set, "pilot-jet-blocked@2") > now(later, "pilot-jet-blocked@2"));
}

TEST_CASE("a screw that nobody has set is as found, whatever else was repaired",
          "[evidence][setting]") {
  JobWriter job = four();
  job.repair("renew-intake-rubber", {2}).record("mixture-screw-turns", "3 3/4", {2});
  const Diagnosis untouched = test::diagnose(job);
  CHECK_FALSE(as_left(untouched, untouched.evidence().observations.back()));
  job.repair("reset-pilot-screw", {2}).record("mixture-screw-turns", "2", {2});
  const Diagnosis set = test::diagnose(job);
  CHECK(as_left(set, set.evidence().observations.back()));
}

}  // namespace tickover::evidence_setting_test
