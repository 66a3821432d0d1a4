/// @file
/// Draws from the posterior against the exact probabilities of every set of causes and of cures,
/// on random cases. A failure prints the seed.
#include "engine/belief/scenarios.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "engine/belief/infer.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/inhibited_case.hpp"

namespace tickover::belief_scenarios_test {
namespace {

using namespace belief;

constexpr std::uint64_t kCases = test::cases(240);
constexpr std::size_t kDraws = 20000;
/// Five deviations of an independent draw's frequency; over all cases about one comparison in a
/// million would miss it by chance, and systematic sampling strays less.
const double kStray = 5 * 0.5 / std::sqrt(static_cast<double>(kDraws));

using Present = std::vector<std::uint32_t>;

/// Every other case can hide findings; a tenth of these are too wide.
Case case_of(std::uint64_t seed) {
  return seed % 2 == 0 ? test::random_case(seed) : test::inhibited_case(seed);
}

/// P(exactly these causes present now | e).
double exactly(const Present& present, Case given, double log_of_evidence) {
  for (std::size_t c = 0; c < given.network->causes.size(); ++c) {
    const bool there = std::binary_search(present.begin(), present.end(), c);
    given.seen.push_back({c, given.now, there ? 1.0 : 0.0, there ? 0.0 : 1.0, 0});
  }
  return std::exp(log_evidence(given) - log_of_evidence);
}

double cured_in(const std::vector<Scenario>& scenarios, const Case& given,
                const std::vector<Removal>& removals) {
  std::vector<double> kept(given.network->causes.size(), 1);
  for (const Removal& removal : removals) kept[removal.cause] *= 1 - removal.success;
  double sum = 0;
  for (const Scenario& one : scenarios) sum += one.share * one.cured(kept);
  return sum;
}

}  // namespace

TEST_CASE("draws follow the posterior of all causes together", "[belief][scenarios][property]") {
  std::size_t compared = 0;
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    const Case given = case_of(seed);
    if (!infer(given, 0).exact) continue;
    const double log_of_evidence = log_evidence(given);
    const std::vector<Scenario> scenarios = draw_scenarios(given, {}, kDraws, seed);
    if (std::isinf(log_of_evidence)) {
      CHECK(scenarios.empty());
      continue;
    }
    std::map<Present, double> shares;
    double all = 0;
    for (const Scenario& one : scenarios) {
      shares[one.present] += one.share;
      all += one.share;
    }
    CHECK(all == Approx(1));
    ++compared;
    for (const auto& [present, share] : shares) {
      CHECK(std::abs(share - exactly(present, given, log_of_evidence)) < kStray);
    }
  }
  CHECK(compared > kCases / 5 * 4);
}

// The share of the draws that a repair cures is the probability of a cure: what must go is drawn
// together with the causes.
TEST_CASE("draws know what must go", "[belief][scenarios][property]") {
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    const Case given = case_of(seed);
    const Belief belief = infer(given, 0);
    if (belief.contradiction || !belief.exact) continue;
    test::Random random(seed);
    const test::Repair repair = test::random_repair(random, given);
    const std::vector<Scenario> scenarios = draw_scenarios(given, repair.findings, kDraws, seed);
    CHECK(std::abs(cured_in(scenarios, given, repair.removals) -
                   cured(given, repair.findings, repair.removals)) < kStray);
    CHECK(std::abs(cured_in(scenarios, given, {}) - cured(given, repair.findings, {})) < kStray);
  }
}

// With two bits most findings are set aside, seen in several epochs and through sensors, hidden and
// faded: what the draws are weighed by must make up for all of it.
TEST_CASE("draws weighed by what was set aside follow the posterior",
          "[belief][scenarios][property]") {
  constexpr std::size_t kWeighed = 4000;  // each is weighed: that takes its time
  std::size_t compared = 0, of_past = 0;
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    const Case given = case_of(seed);
    const Belief belief = infer(given, 0);
    if (belief.contradiction || !belief.exact) continue;
    const Scenarios source(given, {}, 2, [&] { return belief.present_now; });
    if (source.set_aside().empty() || !source.unweighed().empty()) continue;
    const std::vector<Scenario> scenarios = source.draw(kWeighed, seed);
    if (scenarios.empty()) {  // none of the draws allows it
      CHECK_FALSE(source.draw_unweighed(kWeighed, seed).empty());
      continue;
    }
    double squares = 0;
    std::map<Present, double> shares;
    for (const Scenario& one : scenarios) {
      squares += one.share * one.share / one.draws;
      shares[one.present] += one.share;
    }
    if (1 / squares < kWeighed / 20.0) continue;  // too few speak
    ++compared;
    of_past += given.now > 0;
    // a share of weighed draws has the error of so many equal ones, and heavier tails
    const double stray = 6 * 0.5 * std::sqrt(squares);
    for (const auto& [present, share] : shares) {
      CHECK(std::abs(share - exactly(present, given, belief.log_evidence)) < stray);
    }
  }
  CHECK(compared > kCases / 4);
  CHECK(of_past > kCases / 8);
}

TEST_CASE("the same seed draws the same", "[belief][scenarios]") {
  const Case given = test::random_case(7);
  const auto once = draw_scenarios(given, {0}, 100, 3), again = draw_scenarios(given, {0}, 100, 3);
  REQUIRE(once.size() == again.size());
  for (std::size_t i = 0; i < once.size(); ++i) {
    CHECK(once[i].present == again[i].present);
    CHECK(once[i].must_go == again[i].must_go);
    CHECK(once[i].share == again[i].share);
  }
}

}  // namespace tickover::belief_scenarios_test
