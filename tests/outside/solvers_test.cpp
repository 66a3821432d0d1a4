/// @file
/// Our answers against those of solvers that are not ours, on networks in UAI text.
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/belief/infer.hpp"
#include "engine/belief/tables/from_case.hpp"
#include "engine/belief/tables/infer.hpp"
#include "tests/support/noisy_or.hpp"
#include "tests/support/outside.hpp"
#include "tests/support/published.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::outside_solvers_test {
namespace {

using namespace belief;
using tables::Form;
using tables::PlainNetwork;
using test::OutsideNetwork;

double combinations(const tables::FactorGraph& graph) {
  double product = 1;
  for (const std::size_t states : graph.cardinality) product *= static_cast<double>(states);
  return product;
}

OutsideNetwork outside(const PlainNetwork& plain) { return {plain.graph, plain.observed}; }

double log_product(const tables::FactorGraph& graph, const std::vector<std::size_t>& states) {
  double sum = 0;
  for (const tables::Factor& factor : graph.factors) {
    std::size_t index = 0;
    for (const std::size_t v : factor.scope) index = index * graph.cardinality[v] + states[v];
    sum += std::log(factor.values[index]);
  }
  return sum;
}

/// ln P(explanation, e) with the causes it does not speak of at their best; -infinity for none.
double log_of_explanation(const Case& given, const PlainNetwork& plain) {
  std::vector<tables::Observed> fixed = plain.observed;
  const std::vector<Explanation> best = explanations(given, 1);
  if (best.empty()) return -std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < best[0].causes.size(); ++i) {
    const std::vector<LifeChance> ways = lives(given, best[0].causes[i]);
    for (std::size_t s = 0; s < ways.size(); ++s) {
      if (ways[s].life == best[0].lives[i]) fixed.push_back({best[0].causes[i], s});
    }
  }
  return most_probable(plain.graph, fixed).log_probability;
}

}  // namespace

TEST_CASE("toulbar2 finds our most probable explanations", "[outside][toulbar2]") {
  if (!test::have_toulbar2()) return;
  std::size_t compared = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    const Case given = seed <= 20 ? test::noisy_or({10 + seed, 5 + seed / 2, 3 + seed % 4})
                                  : test::random_case(seed);
    const PlainNetwork plain = plain_network(given, Form::full);
    const double ours = log_of_explanation(given, plain);
    if (!std::isfinite(ours)) continue;
    const test::OutsideBest theirs = test::toulbar2_best(outside(plain));
    CHECK(theirs.log_probability == Approx(ours).epsilon(1e-7).margin(1e-6));
    CHECK(log_product(plain.graph, theirs.states) == Approx(ours).epsilon(1e-9).margin(1e-9));
    ++compared;
  }
  CHECK(compared >= 50);
}

TEST_CASE("toulbar2 counts our P(e)", "[outside][toulbar2]") {
  if (!test::have_toulbar2()) return;
  constexpr std::size_t kCopies = 100;
  for (const test::NoisyOr& shape :
       std::vector<test::NoisyOr>{{10, 4, 4}, {14, 5, 5}, {20, 6, 6}, {25, 7, 5}, {30, 7, 5}}) {
    CAPTURE(shape.causes, shape.present);
    const Case given = test::noisy_or(shape);
    const PlainNetwork plain = plain_network(given, Form::decomposed);
    const double theirs = test::toulbar2_log_evidence(outside(plain), kCopies);
    CHECK(std::abs(theirs - log_evidence(given)) < 1e-3 / kCopies);
  }
}

TEST_CASE("toulbar2 counts the P(e) of random jobs", "[outside][toulbar2]") {
  if (!test::have_toulbar2()) return;
  std::size_t compared = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    const Case given = test::random_case(seed);
    const PlainNetwork plain = plain_network(given, Form::decomposed);
    if (infer(given).contradiction) continue;
    const double theirs = test::toulbar2_log_evidence(outside(plain), 10) + plain.log_scale;
    CHECK(std::abs(theirs - log_evidence(given)) < 1e-4);
    ++compared;
  }
  CHECK(compared >= 30);
}

TEST_CASE("toulbar2 on the published networks", "[outside][toulbar2][published]") {
  if (!test::have_toulbar2()) return;
  for (const test::Published& one : test::published()) {
    CAPTURE(one.network, one.evidence);
    const OutsideNetwork network{test::published_network(one.network), one.observed};
    const tables::Posterior ours = tables::infer(network.graph, network.observed);
    const tables::MostProbable best = most_probable(network.graph, network.observed);
    CHECK(std::abs(test::toulbar2_log_evidence(network, 200) - ours.log_evidence) < 5e-6);
    CHECK(test::toulbar2_best(network).log_probability ==
          Approx(best.log_probability).epsilon(1e-7).margin(1e-6));
  }
}

TEST_CASE("bayesjs agrees on small networks", "[outside][bayesjs]") {
  if (!test::have_bayesjs()) return;
  std::vector<OutsideNetwork> networks;
  for (const test::Published& one : test::published()) {
    networks.push_back({test::published_network(one.network), one.observed});
  }
  for (std::uint64_t seed = 1; networks.size() < 40; ++seed) {
    const PlainNetwork plain =
        plain_network(test::random_case(seed), seed % 2 == 0 ? Form::full : Form::decomposed);
    const bool small = combinations(plain.graph) <= 512 && !plain.observed.empty();
    if (small && !infer(test::random_case(seed)).contradiction) networks.push_back(outside(plain));
  }
  const std::vector<test::OutsideAnswer> answers = test::bayesjs(networks);
  for (std::size_t i = 0; i < networks.size(); ++i) {
    CAPTURE(i);
    const tables::Posterior ours = tables::infer(networks[i].graph, networks[i].observed);
    if (answers[i].evidence) {
      CHECK(std::abs(*answers[i].evidence - std::exp(ours.log_evidence)) < 1e-7);
    }
    for (std::size_t v = 0; v < ours.marginals.size(); ++v) {
      for (std::size_t s = 0; s < ours.marginals[v].size(); ++s) {
        CAPTURE(v, s);
        CHECK(std::abs(answers[i].marginals[v][s] - ours.marginals[v][s]) < 1e-7);
      }
    }
  }
}

}  // namespace tickover::outside_solvers_test
