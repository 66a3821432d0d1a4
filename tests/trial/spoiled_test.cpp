/// @file
/// A test that a fault can spoil: the world that is played, the belief and the forecast agree.
/// Dead starter plungers are made common (0.3) so that a sample has enough of them. Fixed seeds; a
/// share may stray by four and a half standard deviations.
#include <catch2/catch.hpp>

#include "engine/plan/results.hpp"
#include "engine/trial/world.hpp"
#include "engine/vet/answers.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::trial_spoiled_test {
namespace {

using trial::Draws;
using trial::World;

constexpr double kDeviations = 4.5;

/// The shipped pack with often dead plungers, and rubbers that often leak, which enrichment shows.
pack::Pack pack_of_dead_starters() {
  pack::Pack pack = test::shipped_pack();
  pack.causes[*pack::find(pack.causes, "starter-plunger-dead")].prior = test::number(0.3);
  pack.causes[*pack::find(pack.causes, "intake-rubber-cracked")].prior = test::number(0.2);
  return pack;
}

bool fits(double hits, double count, double probability) {
  return std::abs(hits - count * probability) <=
         kDeviations * std::sqrt(count * probability * (1 - probability)) + 1;
}

/// Given each answer of the enrichment test: how often each cause is present, played and believed.
void check_machine(const std::string& machine, std::uint64_t draws) {
  CAPTURE(machine);
  test::JobWriter nothing(test::shipped_sheet(machine));
  const Diagnosis job = test::diagnose(pack_of_dead_starters(), nothing.journal());
  const Model& model = job.model();
  const FindingInstance& asked = test::finding_instance(model, "better-with-choke");
  const auto f = static_cast<std::size_t>(&asked - model.findings.data());
  std::vector<std::vector<double>> present(3, std::vector<double>(model.causes.size()));
  std::vector<double> count(3);
  for (std::uint64_t i = 0; i < draws; ++i) {
    const World world(model, Draws(23, i));
    const std::size_t level = world.level(f, 0);
    count[level] += 1;
    for (std::size_t c = 0; c < model.causes.size(); ++c) {
      present[level][c] += world.present(c, 0) ? 1 : 0;
    }
  }
  belief::Case given = job.given();
  belief::Solver solver;
  const belief::Belief now = solver.infer(given);
  const std::vector<plan::Result> results = plan::results_of(
      solver, job.ground(), model, given, now, asked.finding, {asked.place}, 0, 1e-9);
  const std::vector<double> in_closed_form = vet::Answers(model, f).probabilities();
  REQUIRE(results.size() == 3);
  double sum = 0;
  for (const plan::Result& result : results) {
    const std::size_t level = result.observations.front().level;
    CAPTURE(level, result.probability, count[level]);
    CHECK(fits(count[level], static_cast<double>(draws), result.probability));
    CHECK(result.probability == Approx(in_closed_form[level]).epsilon(1e-9));
    sum += result.probability;
    for (std::size_t c = 0; c < model.causes.size(); ++c) {
      CAPTURE(model.causes[c].id, present[level][c], result.present[c]);
      CHECK(fits(present[level][c], count[level], result.present[c]));
    }
  }
  CHECK(sum == Approx(1).epsilon(1e-9));
}

}  // namespace

TEST_CASE("a spoiled enrichment test is played, forecast and believed alike", "[trial][world]") {
  check_machine("single", 200'000);
  check_machine("twin-v", 200'000);
}

// One carburettor: yes needs a plunger that works; no is hardly news when it is dead.
TEST_CASE("on a single a positive enrichment test clears the starter plunger", "[trial][world]") {
  const auto dead = [](const std::string& answer, const std::string& machine) {
    test::JobWriter job(test::shipped_sheet(machine));
    job.record("better-with-choke", answer);
    const Diagnosis diagnosis = test::diagnose(pack_of_dead_starters(), job.journal());
    const std::string at =
        machine == "single" ? "starter-plunger-dead@1" : "starter-plunger-dead@2";
    return diagnosis.infer().present_now[test::cause_instance(diagnosis.model(), at)];
  };
  CHECK(dead("clear", "single") == 0);
  CHECK(dead("none", "single") > 0.3);
  // on a twin the other carburettor may have answered
  CHECK(dead("clear", "twin-v") > 0.05);
  CHECK(dead("clear", "twin-v") < 0.3);
}

// Looked at and found dead: the answer hardly moves the rubber. Found to work: it does.
TEST_CASE("with the plunger known to be dead the enrichment test tells nothing of that cylinder",
          "[trial][world]") {
  const auto moved_by_no = [](const std::string& plunger) {
    test::JobWriter job(test::shipped_sheet("single"));
    job.record("idle-hunts", "clear").record("starter-plunger-dead-look", plunger);
    const Diagnosis before = test::diagnose(pack_of_dead_starters(), job.journal());
    job.record("better-with-choke", "none");
    const Diagnosis after = test::diagnose(pack_of_dead_starters(), job.journal());
    const std::size_t rubber = test::cause_instance(before.model(), "intake-rubber-cracked@1");
    return after.infer().present_now[rubber] / before.infer().present_now[rubber];
  };
  CHECK(moved_by_no("dead") > 0.95);
  CHECK(moved_by_no("works") < 0.7);
}

}  // namespace tickover::trial_spoiled_test
