/// @file
/// What a rider speaks of only when asked is evidence like any other, and need not go.
#include <catch2/catch.hpp>

#include "engine/foundation/error.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::evidence_complaint_test {
namespace {

using test::JobWriter;

constexpr bool kAsked = true, kUnasked = false;

struct Said {
  std::string what, value;
  bool asked;
};

void say(JobWriter& job, const Said& said) {
  Entry entry;
  entry.event = Event::record;
  entry.what = said.what;
  entry.value = said.value;
  entry.asked = said.asked;
  job.add(entry);
}

JobWriter single(const std::vector<Said>& all) {
  JobWriter job(test::shipped_sheet("single"));
  for (const Said& said : all) say(job, said);
  return job;
}

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
  JobWriter job = single({{"idle-hunts", "clear", kUnasked}});
  const double before = test::diagnose(job).infer().log_evidence;
  say(job, {"overrun-popping", "clear", kAsked});
  CHECK(complaint(job) == Ids{"idle-hunts"});
  CHECK(test::diagnose(job).infer().log_evidence < before);
}

TEST_CASE("asked again, what was told unasked stays the complaint", "[evidence][complaint]") {
  JobWriter job = single({{"idle-hunts", "slight", kUnasked},
                          {"idle-hunts", "clear", kAsked},
                          {"overrun-popping", "clear", kAsked}});
  CHECK(complaint(job) == Ids{"idle-hunts"});
  say(job, {"overrun-popping", "clear", kUnasked});
  CHECK(complaint(job) == Ids{"idle-hunts", "overrun-popping"});
}

TEST_CASE("where nothing was told unasked, what was admitted is the complaint",
          "[evidence][complaint]") {
  JobWriter job = single({{"overrun-popping", "clear", kAsked}});
  CHECK(complaint(job) == Ids{"overrun-popping"});
  say(job, {"idle-hunts", "none", kUnasked});
  CHECK(complaint(job) == Ids{"overrun-popping"});
}

TEST_CASE("what a check shows, or a later entry, does not join the complaint",
          "[evidence][complaint]") {
  JobWriter job = single({{"idle-hunts", "clear", kUnasked},
                          {"enrichment-test", "clear", kUnasked},
                          {"overrun-popping", "unsure", kUnasked},
                          {"overrun-popping", "clear", kAsked}});
  CHECK(complaint(job) == Ids{"idle-hunts"});
  job.repair("clean-pilot");
  say(job, {"overrun-popping", "none", kUnasked});
  CHECK(complaint(job) == Ids{"idle-hunts"});
}

TEST_CASE("a complaint that is gone leaves nothing admitted in its place",
          "[evidence][complaint]") {
  JobWriter job = single({{"idle-hunts", "clear", kUnasked}, {"overrun-popping", "clear", kAsked}});
  job.verify("gone");
  CHECK(complaint(job).empty());
}

TEST_CASE("only symptoms are asked of a rider", "[evidence][complaint]") {
  JobWriter job = single({{"better-with-choke", "clear", kAsked}});
  CHECK_NOTHROW(test::diagnose(job));
  say(job, {"push-shut", "no", kAsked});
  CHECK_THROWS_AS(test::diagnose(job), InputError);
}

}  // namespace tickover::evidence_complaint_test
