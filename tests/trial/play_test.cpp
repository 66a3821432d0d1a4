/// @file
/// Jobs and the policies that play them: what is drawn, what no policy can beat, what they cost.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "engine/trial/summary.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::trial_play_test {
namespace {

using trial::JobResult;
using trial::Outcome;

trial::Trial trial_on(const std::string& machine, std::vector<std::string> policies) {
  trial::Trial trial;
  trial.pack = test::shipped_pack();
  trial.machine =
      load_machine(test::shipped_sheet(machine), test::machine_schema(), machine + ".json");
  trial.settings = trial::load_settings(test::source_text("knowledge/trial/settings.json"),
                                        test::source_text("knowledge/schema/trial.schema.json"),
                                        "settings.json", trial.pack);
  trial.policies = std::move(policies);
  return trial;
}

const std::vector<std::string> kQuick = {"ratio", "most-probable", "printed-order", "strip-first"};

/// Three faults of one symptom behind two layers, looks that err, and a leak: small enough for
/// every policy.
test::SmallPack small_pack() {
  test::SmallPack small(20, 300);
  const std::size_t outer = small.layer({5, 7}), inner = small.layer({20, 30, {outer}});
  for (const double prior : {0.1, 0.05, 0.08}) small.cause(prior);
  small.symptom(0.02, {{0, 0.8}, {1, 0.9}, {2, 0.6}});
  small.symptom(0.05, {{1, 0.7}});
  small.repair({{{0, 0.9}}, {4, 0}, {outer}});
  small.repair({{{1, 0.8}}, {15, 0}, {inner}});
  small.repair({{{2, 0.95}, {1, 0.5}}, {30, 0}, {}});
  small.look({0, 0.9, 0.1, {3, 0}, {outer}});
  small.look({1, 0.95, 0.02, {6, 0}, {inner}});
  small.look({2, 0.7, 0.2, {2, 0}, {}});
  return small;
}

trial::Trial small_trial() {
  trial::Trial trial =
      trial_on("single", {"truth", "planner", "one-step", "one-step-exact", "ratio",
                          "most-probable", "entropy", "printed-order", "strip-first"});
  trial.pack = small_pack().pack;
  trial.machine = load_machine(test::plain_sheet(), test::machine_schema(), "plain.json");
  trial.settings.order.steps = {{2, {2}}, {1, {}}, {0, {0}}};
  return trial;
}

/// Nothing ends by itself: with that, any policy can be lucky.
void without_fading(trial::Trial& trial) { trial.pack.fades = test::number(0); }

void check_never_beaten(const trial::Trial& trial, std::size_t jobs) {
  for (std::size_t job = 0; job < jobs; ++job) {
    const JobResult result = trial::play_job(trial, job);
    for (std::size_t p = 1; p < trial.policies.size(); ++p) {
      CAPTURE(job, trial.policies[p]);
      CHECK(result.outcomes[0].minutes <= result.outcomes[p].minutes + 1e-9);
    }
  }
}

}  // namespace

TEST_CASE("who knows the truth is never beaten", "[trial][policies]") {
  trial::Trial trial = small_trial();
  without_fading(trial);
  check_never_beaten(trial, 300);
  trial.slips = 0.1;
  check_never_beaten(trial, 100);
}

TEST_CASE("who knows the truth is never beaten on the shipped pack", "[trial][policies]") {
  std::vector<std::string> policies = kQuick;
  policies.insert(policies.begin(), "truth");
  trial::Trial trial = trial_on("twin-parallel", policies);
  without_fading(trial);
  trial.perturbed = true;
  check_never_beaten(trial, 25);
}

TEST_CASE("every policy ends every job, cured or handed on", "[trial][policies]") {
  trial::Trial trial = small_trial();
  trial.slips = 0.2;
  std::size_t cured = 0, handed_on = 0;
  for (std::size_t job = 0; job < 100; ++job) {
    for (const Outcome& outcome : trial::play_job(trial, job).outcomes) {
      CHECK(outcome.cured != outcome.handed_on);
      CHECK(outcome.minutes >= (outcome.cured ? 20 : 300));
      CHECK(outcome.needless <= outcome.repairs);  // an engine has one place
      cured += outcome.cured ? 1 : 0;
      handed_on += outcome.handed_on ? 1 : 0;
    }
  }
  CHECK(cured > 100);
  CHECK(handed_on > 50);
}

// Worked by hand. One cause, certain to show; the look is sure, 3 min; the repair sure, 4 min; both
// behind a layer of 5 + 7 min; verification 20 min. Looking, repairing, closing, verifying: 39 min.
TEST_CASE("time is counted as it is spent", "[trial][policies]") {
  test::SmallPack small(20, 300);
  const std::size_t layer = small.layer({5, 7});
  small.cause(0.5);
  small.symptom(0, {{0, 1}});
  small.repair({{{0, 1}}, {4, 0}, {layer}});
  small.look({0, 1, 0, {3, 0}, {layer}});
  trial::Trial trial = small_trial();
  trial.pack = small.pack;
  without_fading(trial);
  trial.settings.order.steps = {{0, {0}}};
  const JobResult result = trial::play_job(trial, 0);
  const auto minutes = [&](const std::string& name) {
    const auto at = std::find(trial.policies.begin(), trial.policies.end(), name);
    return result.outcomes[static_cast<std::size_t>(at - trial.policies.begin())].minutes;
  };
  CHECK(minutes("printed-order") == Approx(5 + 3 + 4 + 7 + 20));
  CHECK(minutes("strip-first") == Approx(5 + 3 + 4 + 7 + 20));
  CHECK(minutes("truth") == Approx(5 + 4 + 7 + 20));
  CHECK(minutes("ratio") == Approx(5 + 4 + 7 + 20));
  CHECK(minutes("planner") == Approx(5 + 4 + 7 + 20));
}

TEST_CASE("all policies meet the same chances, whoever else plays", "[trial][policies]") {
  trial::Trial both = trial_on("four-inline", {"ratio", "most-probable"});
  trial::Trial alone = trial_on("four-inline", {"most-probable"});
  for (std::size_t job = 0; job < 10; ++job) {
    CHECK(trial::play_job(both, job).outcomes[1] == trial::play_job(alone, job).outcomes[0]);
  }
}

TEST_CASE("seeds make other jobs, and the same seed the same", "[trial]") {
  trial::Trial trial = trial_on("single", {"ratio"});
  const JobResult first = trial::play_job(trial, 3);
  CHECK(trial::play_job(trial, 3) == first);
  std::size_t same = 0;
  for (std::size_t job = 0; job < 20; ++job) {
    trial::Trial other = trial;
    other.seed = 2;
    if (trial::play_job(trial, job).outcomes == trial::play_job(other, job).outcomes) ++same;
  }
  CHECK(same < 10);
}

TEST_CASE("moved numbers stay within their ranges", "[trial]") {
  const pack::Pack& pack = test::shipped_pack();
  double higher = 0;
  for (std::uint64_t i = 0; i < 40; ++i) {
    const pack::Pack moved = trial::perturbed(pack, trial::Draws(3, i));
    for (std::size_t c = 0; c < pack.causes.size(); ++c) {
      const pack::Number& prior = pack.causes[c].prior;
      CHECK(moved.causes[c].prior.value >= prior.low * (1 - 1e-12));
      CHECK(moved.causes[c].prior.value <= prior.high * (1 + 1e-12));
      if (moved.causes[c].prior.value > prior.value) ++higher;
    }
    for (const pack::Finding& finding : moved.findings) {
      for (const pack::Link& link : finding.links) {
        double sum = 0;
        for (const pack::Number& strength : link.strength) sum += strength.value;
        CHECK(sum <= 1 + 1e-12);
      }
    }
  }
  const double share = higher / (40 * static_cast<double>(pack.causes.size()));
  CHECK(share > 0.4);  // as often up as down
  CHECK(share < 0.6);
}

TEST_CASE("riders tell of one to three symptoms that are there", "[trial]") {
  const trial::Trial trial = trial_on("twin-parallel", {});
  const Model model = build_model(trial.pack, trial.machine, {});
  std::map<std::size_t, std::size_t> told_of;
  for (std::uint64_t i = 0; i < 2000; ++i) {
    const trial::Draws draws(9, i);
    const trial::World world(model, draws);
    const auto told = trial::told_by_rider(world, trial.settings, draws);
    ++told_of[told.size()];
    for (const trial::Told& one : told) CHECK(world.level(one.finding, 0) == one.level);
  }
  CHECK(told_of.rbegin()->first == 3);
  CHECK(told_of[0] > 500);
  CHECK(told_of[1] > told_of[2]);
  CHECK(told_of[2] > told_of[3]);
}

// Four jobs of 10, 20, 30 and 40 min for one, 20 min each for the other; type-7 quantiles by hand.
TEST_CASE("a summary is worked out as its words say", "[trial][summary]") {
  std::vector<JobResult> results;
  for (std::size_t i = 0; i < 4; ++i) {
    Outcome first, second;
    first.minutes = 10 * static_cast<double>(i + 1);
    first.cured = i < 3;
    first.handed_on = !first.cured;
    first.cured_first = i == 0;
    second.minutes = 20;
    second.cured = true;
    results.push_back({i, i + 1, i, 1, {first, second}});
  }
  const trial::Summary summary = trial::summarize(results, {"a", "b"}, 1);
  CHECK(summary.complain == Approx(0.4));
  CHECK(summary.faults == std::vector<double>{0.25, 0.25, 0.25, 0.25, 0});
  CHECK(summary.policies[0].minutes.mean == Approx(25));
  CHECK(summary.policies[0].median == Approx(25));
  CHECK(summary.policies[0].ninetieth == Approx(37));
  CHECK(summary.policies[0].cured_minutes == Approx(20));
  CHECK(summary.policies[0].cured_first == Approx(0.25));
  CHECK(summary.policies[0].handed_on == Approx(0.25));
  CHECK(summary.policies[1].ahead.mean == Approx(-5));
  CHECK(summary.policies[1].ratio == Approx(1.25));
  CHECK(summary.policies[1].minutes.low == Approx(20));
  CHECK(summary.policies[0].minutes.low >= 10);
  CHECK(summary.policies[0].minutes.low < 25);
  CHECK(summary.policies[0].minutes.high > 25);
  CHECK(summary.curable == 0);  // nobody played who knows
  const trial::Summary known = trial::summarize(results, {trial::kTruth, "b"}, 1);
  CHECK(known.curable == Approx(0.75));
  CHECK(known.policies[0].curable_minutes == Approx(20));
  CHECK(known.policies[1].curable_minutes == Approx(20));
  for (JobResult& one : results) one.outcomes[1].minutes = one.outcomes[0].minutes + 5;
  CHECK(trial::summarize(results, {trial::kTruth, "b"}, 1).policies[1].curable_minutes ==
        Approx(25));
}

// A normal mean: the bootstrap interval must be near mean +- 1.96 deviations / sqrt(n).
TEST_CASE("bootstrap intervals have their width", "[trial][summary]") {
  std::vector<JobResult> results;
  const trial::Draws draws(4, 0);
  for (std::size_t i = 0; i < 400; ++i) {
    Outcome one;
    one.minutes = 100 + 20 * draws.normal(trial::Purpose::part, {i});
    results.push_back({i, 1, 1, 1, {one}});
  }
  const trial::Estimate minutes = trial::summarize(results, {"a"}, 1).policies[0].minutes;
  CHECK(minutes.mean == Approx(100).margin(3));
  CHECK(minutes.high - minutes.low == Approx(2 * 1.96 * 20 / 20).epsilon(0.15));
}

TEST_CASE("settings are refused by name and place", "[trial][errors]") {
  const auto refused = [](const std::string& pointer, const nlohmann::json& value) -> std::string {
    nlohmann::json settings = test::json_of(test::source_text("knowledge/trial/settings.json"));
    settings[nlohmann::json::json_pointer(pointer)] = value;
    try {
      trial::load_settings(test::text_of(settings),
                           test::source_text("knowledge/schema/trial.schema.json"), "s.json",
                           test::shipped_pack());
    } catch (const InputError& error) {
      return error.place() + ": " + error.rule() + "; " + error.hint();
    }
    return "";
  };
  CHECK(refused("/order/steps/0/repair", "reset-idle-stopp") ==
        "s.json#/order/steps/0/repair: no repair named 'reset-idle-stopp'; nearest: "
        "reset-idle-stop");
  CHECK(refused("/order/steps/1/checks/0", "screw-turn-count") ==
        "s.json#/order/steps/1/checks/0: no check named 'screw-turn-count'; nearest: "
        "screw-turns-count");
  CHECK(refused("/told/shares", {0.5, 0.4}).starts_with("s.json#/told/shares: the shares do not"));
  CHECK(refused("/risk-share/value", 1.5).starts_with("s.json#/risk-share/value: "));
  CHECK(refused("/format", 2).starts_with("s.json#/format: "));
  CHECK(refused("/odd", 1).find("odd") != std::string::npos);
  CHECK(refused("/told/basis", "judgement") == "");
}

}  // namespace tickover::trial_play_test
