/// @file
/// Models that nothing can be planned on: what vet and the loader refuse must not break the planner
/// either, and it says what is left to do.
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/foundation/text.hpp"
#include "engine/vet/vet.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::plan_odd_model_test {
namespace {

using plan::ActionKind;
using test::SmallPack;

constexpr double kHandOn = 500;

/// Two causes of the complaint and a look at each; the first `mended` have a repair.
SmallPack partly_mended(std::size_t mended) {
  SmallPack small(10, kHandOn);
  for (std::size_t i = 0; i < 2; ++i) small.cause(0.1);
  small.symptom(0.01, {{0, 0.8}, {1, 0.8}});
  for (std::size_t i = 0; i < mended; ++i) small.repair({{{i, 0.9}}, {0, 20}});
  for (std::size_t i = 0; i < 2; ++i) small.look({i, 0.9, 0.05, {0, 5}});
  return small;
}

test::JobWriter complaint() {
  test::JobWriter writer(test::plain_sheet());
  writer.record("symptom-0", "yes");
  return writer;
}

std::vector<std::string> without_repair(const pack::Pack& pack) {
  std::vector<std::string> causes;
  for (const vet::Remark& remark : vet::about_texts(pack)) {
    if (remark.rule == "no-repair") causes.push_back(remark.about.front());
  }
  return causes;
}

void check_finite(const plan::Advice& advice) {
  REQUIRE(!advice.proposals.empty());
  for (const plan::Proposal& one : advice.proposals) {
    CHECK(std::isfinite(one.expected_minutes));
    CHECK(one.expected_minutes >= 0);
  }
}

}  // namespace

TEST_CASE("where no cause has a repair the job is handed on, and vet says why",
          "[plan][vet][odd]") {
  const SmallPack small = partly_mended(0);
  CHECK(without_repair(small.pack) == std::vector<std::string>{"cause-0", "cause-1"});
  const Diagnosis job = test::diagnose(small.pack, complaint().journal());
  const plan::Advice advice = job.advise();
  check_finite(advice);
  CHECK(advice.proposals.front().kind == ActionKind::hand_on);
  CHECK(advice.proposals.front().expected_minutes == Approx(kHandOn));
  CHECK(advice.course_now.batches.empty());
  CHECK(advice.least_minutes == Approx(kHandOn));
}

TEST_CASE("what can be mended is, though another cause cannot", "[plan][vet][odd]") {
  const SmallPack small = partly_mended(1);
  CHECK(without_repair(small.pack) == std::vector<std::string>{"cause-1"});
  test::JobWriter writer = complaint();
  const Diagnosis before = test::diagnose(small.pack, writer.journal());
  check_finite(before.advise());
  CHECK(before.advise().proposals.front().kind != ActionKind::hand_on);
  for (int i = 0; i < 3; ++i) writer.repair("repair-0").verify("still");
  const Diagnosis after = test::diagnose(small.pack, writer.journal());
  check_finite(after.advise());
  CHECK(after.advise().proposals.front().kind == ActionKind::hand_on);
}

TEST_CASE("a repair that never succeeds is none", "[plan][odd]") {
  SmallPack small = partly_mended(2);
  for (pack::Repair& repair : small.pack.repairs) repair.removes.front().success.value = 0;
  const Diagnosis job = test::diagnose(small.pack, complaint().journal());
  check_finite(job.advise());
  CHECK(job.advise().proposals.front().kind == ActionKind::hand_on);
}

// The loader refuses both ways of having no access path: a check that needs the engine running
// behind a layer that stops it, and a layer behind itself (tests/errors/pack, "running-behind-*"
// and "access-behind-itself"). The first can be built by hand.
TEST_CASE("a check that cannot be reached does not break the plan", "[plan][odd]") {
  SmallPack small = partly_mended(2);
  small.layer({10, 15});
  small.pack.checks[0].running = true;
  small.pack.checks[0].open = {0};
  const Diagnosis job = test::diagnose(small.pack, complaint().journal());
  check_finite(job.advise());
}

TEST_CASE("next says so when nothing that it may do mends anything", "[cli][plan][odd]") {
  const test::Scratch scratch;
  const auto run = [&](const std::vector<std::string>& words) {
    return test::run_program(
        {words, scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  };
  run({"open", "bike.job", "--machine", "single"});
  run({"record", "bike.job", "idle-hunts", "clear"});
  const std::string all = join_words(pack::ids_of(test::shipped_pack().repairs), ",", ",");
  const test::ProgramResult told = run({"next", "bike.job", "--without", all});
  CHECK(told.status == 0);
  CHECK_THAT(told.out, Catch::Contains("Stop and hand the job on"));
  CHECK_THAT(told.out, Catch::Contains("No check or repair on the list is worth its time"));
}

}  // namespace tickover::plan_odd_model_test
