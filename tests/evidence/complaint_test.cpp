/// @file
/// What a rider speaks of only when asked is evidence like any other, and need not go.
#include <catch2/catch.hpp>

#include "engine/foundation/error.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover {
namespace {

using test::JobWriter;

Entry symptom(const std::string& what, const std::string& value, bool asked) {
  Entry entry;
  entry.event = Event::record;
  entry.what = what;
  entry.value = value;
  entry.asked = asked;
  return entry;
}

JobWriter single() { return JobWriter(test::shipped_sheet("single")); }

std::vector<std::string> complaint(const JobWriter& job) {
  const Diagnosis diagnosis = test::diagnose(job);
  std::vector<std::string> ids;
  for (const std::size_t finding : diagnosis.evidence().complaint) {
    ids.push_back(diagnosis.model().findings[finding].id);
  }
  return ids;
}

using Ids = std::vector<std::string>;

}  // namespace

TEST_CASE("what was told unasked must go, what was admitted counts", "[evidence][complaint]") {
  JobWriter job = single();
  job.add(symptom("idle-hunts", "clear", false));
  const double before = test::diagnose(job).infer().log_evidence;
  job.add(symptom("overrun-popping", "clear", true));
  CHECK(complaint(job) == Ids{"idle-hunts"});
  CHECK(test::diagnose(job).infer().log_evidence < before);
}

TEST_CASE("asked again, what was told unasked stays the complaint", "[evidence][complaint]") {
  JobWriter job = single();
  job.add(symptom("idle-hunts", "slight", false));
  job.add(symptom("idle-hunts", "clear", true));
  job.add(symptom("overrun-popping", "clear", true));
  CHECK(complaint(job) == Ids{"idle-hunts"});
  job.add(symptom("overrun-popping", "clear", false));
  CHECK(complaint(job) == Ids{"idle-hunts", "overrun-popping"});
}

TEST_CASE("where nothing was told unasked, what was admitted is the complaint",
          "[evidence][complaint]") {
  JobWriter job = single();
  job.add(symptom("overrun-popping", "clear", true));
  CHECK(complaint(job) == Ids{"overrun-popping"});
  job.add(symptom("idle-hunts", "none", false));
  CHECK(complaint(job) == Ids{"overrun-popping"});
}

TEST_CASE("what a check shows, or a later entry, does not join the complaint",
          "[evidence][complaint]") {
  JobWriter job = single();
  job.add(symptom("idle-hunts", "clear", false));
  job.add(symptom("enrichment-test", "clear", false));
  job.add(symptom("overrun-popping", "unsure", false));
  job.add(symptom("overrun-popping", "clear", true));
  CHECK(complaint(job) == Ids{"idle-hunts"});
  job.repair("clean-pilot");
  job.add(symptom("overrun-popping", "none", false));
  CHECK(complaint(job) == Ids{"idle-hunts"});
}

TEST_CASE("a complaint that is gone leaves nothing admitted in its place",
          "[evidence][complaint]") {
  JobWriter job = single();
  job.add(symptom("idle-hunts", "clear", false));
  job.add(symptom("overrun-popping", "clear", true));
  job.verify("gone");
  CHECK(complaint(job) != Ids{"overrun-popping"});
}

TEST_CASE("only symptoms are asked of a rider", "[evidence][complaint]") {
  JobWriter job = single();
  job.add(symptom("better-with-choke", "clear", true));
  CHECK_NOTHROW(test::diagnose(job));
  job.add(symptom("push-shut", "no", true));
  CHECK_THROWS_AS(test::diagnose(job), InputError);
}

}  // namespace tickover
