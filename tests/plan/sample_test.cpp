/// @file
/// What a sample of scenarios says of answers to come, against the exact belief: where a finding
/// can be hidden too.
#include "engine/plan/sample.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "engine/belief/infer.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/inhibited_case.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::plan_sample_test {
namespace {

using namespace belief;
using plan::Sample;

/// P(the finding shows this level | exactly these causes), by the belief.
double exactly(const Network& network, const std::vector<std::uint32_t>& present,
               std::size_t finding, std::size_t level) {
  Case given;
  given.network = network;
  for (std::size_t c = 0; c < network.causes.size(); ++c) {
    given.network.own().causes[c].prior = 0;
  }
  for (const std::uint32_t c : present) given.network.own().causes[c].prior = 1;
  given.levels = {{finding, 0, level, 0}};
  return std::exp(log_evidence(given));
}

Case look(std::size_t finding, std::size_t level) {
  Case seen;
  seen.levels = {{finding, 0, level, 0}};
  return seen;
}

/// The shipped pack with often dead plungers, and rubbers that often leak, which enrichment shows.
pack::Pack pack_of_dead_starters() {
  pack::Pack pack = test::shipped_pack();
  pack.causes[*pack::find(pack.causes, "starter-plunger-dead")].prior = test::number(0.3);
  pack.causes[*pack::find(pack.causes, "intake-rubber-cracked")].prior = test::number(0.2);
  return pack;
}

struct Weighed {
  double all = 0;               ///< P(the answer)
  std::vector<double> present;  ///< per cause, P(present | the answer)
};

Weighed weighed(const Sample& sample, const Case& seen) {
  std::vector<double> weights = sample.likelihood(seen);
  double draws = 0;
  Weighed out;
  for (std::size_t s = 0; s < weights.size(); ++s) {
    draws += sample.scenes()[s].draws;
    weights[s] *= sample.scenes()[s].draws;
    out.all += weights[s];
  }
  out.all /= draws;
  out.present = plan::SampleCures(sample, weights).present();
  return out;
}

/// Every answer of the enrichment test after the rider's complaint: forecast and belief.
void check_forecast(const std::string& machine) {
  CAPTURE(machine);
  test::JobWriter job(test::shipped_sheet(machine));
  job.record("idle-hunts", "clear");
  const Diagnosis before = test::diagnose(pack_of_dead_starters(), job.journal());
  const Model& model = before.model();
  const auto f = static_cast<std::size_t>(&test::finding_instance(model, "better-with-choke") -
                                          model.findings.data());
  const std::size_t node = *before.ground().node_of(f);
  const Network& network = before.ground().network();
  REQUIRE(network.findings[node].inhibited());
  const Case given = before.given();
  constexpr std::size_t kDraws = 20000;
  const Sample sample(network, draw_scenarios(given, before.complaint(), kDraws));
  for (std::size_t level = 0; level < 3; ++level) {
    CAPTURE(level);
    Case then = given;
    then.levels.push_back({node, 0, level, 0});
    const double exact = std::exp(log_evidence(then) - log_evidence(given));
    const Weighed drawn = weighed(sample, look(node, level));
    CHECK(std::abs(drawn.all - exact) < 4.5 * 0.5 / std::sqrt(double{kDraws}));
    const std::vector<double> present = infer(then).present_now;
    const double few = std::sqrt(kDraws * exact);
    for (std::size_t c = 0; c < present.size(); ++c) {
      CAPTURE(model.causes[c].id);
      CHECK(std::abs(drawn.present[c] - present[c]) < 4.5 * 0.5 / few);
    }
  }
}

}  // namespace

TEST_CASE("an answer's probability where the causes are known is the belief's",
          "[plan][sample][inhibited][property]") {
  std::size_t hidden = 0;
  for (std::uint64_t seed = 0; seed < test::cases(400); ++seed) {
    CAPTURE(seed);
    const Network network = *test::inhibited_case(seed).network;
    test::Random random(seed);
    std::vector<Scenario> scenarios(3);
    for (Scenario& one : scenarios) {
      one.draws = 1;
      for (std::uint32_t c = 0; c < network.causes.size(); ++c) {
        if (random.chance(0.5)) one.present.push_back(c);
      }
    }
    const Sample sample(network, scenarios);
    for (std::size_t f = 0; f < network.findings.size(); ++f) {
      hidden += network.findings[f].inhibited();
      for (std::size_t level = 0; level <= network.findings[f].leak.size(); ++level) {
        const std::vector<double> likelihood = sample.likelihood(look(f, level));
        for (std::size_t s = 0; s < scenarios.size(); ++s) {
          CAPTURE(f, level, s);
          CHECK(std::abs(likelihood[s] - exactly(network, scenarios[s].present, f, level)) < 1e-12);
        }
      }
    }
  }
  CHECK(hidden > test::cases(400));
}

TEST_CASE("what a wide case is drawn without weighs its scenarios", "[plan][sample][property]") {
  constexpr std::size_t kDraws = 20000;
  std::size_t compared = 0;
  for (std::uint64_t seed = 0; seed < test::cases(12); ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    const Case given = test::wide_case(random, 14);
    const std::vector<std::size_t> complaint = {given.levels.front().finding};
    const Belief belief = infer(given, 0);
    if (!belief.exact || Scenarios(given, complaint, 10).set_aside().empty()) continue;
    ++compared;
    const Sample sample =
        Sample::draw(given, complaint, kDraws, [&] { return belief.present_now; });
    REQUIRE_FALSE(sample.scenes().empty());
    const std::vector<double> weights = sample.shares();
    CHECK(std::accumulate(weights.begin(), weights.end(), 0.0) == Approx(1));
    const double effective = sample.effective_draws(weights);
    CHECK(effective >= kDraws / 3.0);
    const plan::SampleCures drawn(sample, weights);
    for (std::size_t c = 0; c < belief.present_now.size(); ++c) {
      CAPTURE(c);
      CHECK(std::abs(drawn.present()[c] - belief.present_now[c]) <
            4.5 * 0.5 / std::sqrt(effective));
    }
  }
  CHECK(compared > test::cases(12) / 2);
}

TEST_CASE("the forecast of the enrichment test from draws is the exact one",
          "[plan][sample][inhibited]") {
  check_forecast("single");
  check_forecast("twin-v");
}

// A fault (0) that shows with 0.6, hidden by a starter (1) that a repair mended with 0.7; the
// complaint is kept up by something else (2). P(yes) = 0.7 * 0.6.
TEST_CASE("a spoiler that a repair mended perhaps hides as much as it is still there, by hand",
          "[plan][sample][inhibited]") {
  Network network;
  network.causes = {{0.2, 0}, {0.1, 0}, {0.1, 0}};
  network.findings = {{{0}, {{0, {0.6}, {1}}}}};
  Scenario one;
  one.draws = 1;
  one.share = 1;
  one.present = {0, 1, 2};
  one.must_go = {{2, 1}};
  const Sample sample(network, {one});
  CHECK(sample.likelihood(look(0, 1)).front() == Approx(0).margin(1e-15));
  CHECK(sample.likelihood(look(0, 0)).front() == Approx(1));
  std::vector<double> weights = {1};
  const Sample after = sample.after_failure({{1, 1, 0.7, 0}}, weights);
  CHECK(weights.front() == Approx(1));
  CHECK(after.likelihood(look(0, 1)).front() == Approx(0.7 * 0.6));
  CHECK(after.likelihood(look(0, 0)).front() == Approx(1 - 0.7 * 0.6));
}

// Readings against siblings come as several tables that share findings: one by one they would count
// what they share twice. By hand: P(finding 0 present | cause 0) = 0.6, P(finding 1 | cause 1) =
// 0.3.
TEST_CASE("sensors that tell of the same findings are weighed together, by hand",
          "[plan][sample]") {
  Network network;
  network.causes = {{0.2, 0}, {0.1, 0}};
  network.findings = {{{0}, {{0, {0.6}}}}, {{0}, {{1, {0.3}}}}};
  Scenario one;
  one.draws = 1;
  one.share = 1;
  one.present = {0, 1};
  const Sample sample(network, {one});
  Case seen;
  seen.soft = {{{0}, 0, {0.3, 0.9}, 0}, {{0, 1}, 0, {0.2, 0.5, 0.7, 0.1}, 0}};
  const double expected = 0.4 * 0.7 * 0.3 * 0.2 + 0.6 * 0.7 * 0.9 * 0.5 +  // finding 1 absent
                          0.4 * 0.3 * 0.3 * 0.7 + 0.6 * 0.3 * 0.9 * 0.1;
  CHECK(sample.likelihood(seen).front() == Approx(expected));
}

}  // namespace tickover::plan_sample_test
