/// @file
/// Our answers against those of solvers that are not ours, on networks in UAI text.
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <iostream>

#include "engine/belief/infer.hpp"
#include "engine/belief/tables/from_case.hpp"
#include "engine/belief/tables/infer.hpp"
#include "tests/support/outside.hpp"
#include "tests/support/published.hpp"
#include "tests/support/random_case.hpp"

namespace tickover {
namespace {

using namespace belief;
using tables::Form;
using tables::PlainNetwork;
using test::OutsideNetwork;

/// Noisy-OR with leaks: half of the findings are present, the others absent.
struct Shape {
  std::size_t causes, present, links;
};

Case noisy_or(const Shape& shape) {
  const auto [causes, present, links] = shape;
  test::Random random(causes);
  Case given;
  for (std::size_t c = 0; c < causes; ++c) {
    given.network.causes.push_back({random.between(0.005, 0.1), 0});
  }
  for (std::size_t f = 0; f < 2 * present; ++f) {
    Finding finding{{random.between(1e-4, 0.02)}, {}};
    std::vector<std::size_t> all(causes);
    for (std::size_t c = 0; c < causes; ++c) all[c] = c;
    random.shuffle(all);
    for (std::size_t link = 0; link < links; ++link) {
      finding.links.push_back({all[link], {random.between(0.1, 0.9)}});
    }
    given.network.findings.push_back(finding);
    given.levels.push_back({f, 0, f < present ? 1u : 0u, f});
  }
  return given;
}

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
    const Case given =
        seed <= 20 ? noisy_or({10 + seed, 5 + seed / 2, 3 + seed % 4}) : test::random_case(seed);
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
  for (const Shape& shape :
       std::vector<Shape>{{10, 4, 4}, {14, 5, 5}, {20, 6, 6}, {25, 7, 5}, {30, 7, 5}}) {
    CAPTURE(shape.causes, shape.present);
    const Case given = noisy_or(shape);
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

namespace {

/// Runs `work` once; its answer and the milliseconds it took.
template <class Work>
auto timed(const Work& work) {
  const auto begin = std::chrono::steady_clock::now();
  auto answer = work();
  const std::chrono::duration<double, std::milli> passed = std::chrono::steady_clock::now() - begin;
  return std::pair(answer, passed.count());
}

void compare(const std::string& name, const Case& given) {
  const PlainNetwork plain = plain_network(given, Form::decomposed);
  const auto [ours, our_ms] = timed([&] { return infer(given); });
  const auto [general, general_ms] =
      timed([&] { return tables::infer(plain.graph, plain.observed); });
  const auto [theirs, their_ms] =
      timed([&] { return test::toulbar2_log_evidence(outside(plain), 1, 20); });
  const std::string marginals_ms =
      plain.nodes.size() > 40
          ? "-"
          : fmt::format("{:.0f}", test::bayesjs({outside(plain)})[0].milliseconds);
  fmt::print("{:<36}{:>6}{:>9.3f}{:>12.6f}{:>6}{:>10.2f}{:>12}{:>10.0f}{:>12.3f}{:>10}\n", name,
             plain.nodes.size(), our_ms, ours.log_evidence - plain.log_scale,
             general.need.treewidth, general_ms,
             general.need.too_wide ? "too wide" : fmt::format("{:.6f}", general.log_evidence),
             their_ms, theirs, marginals_ms);
}

}  // namespace

TEST_CASE("the same networks by tickover and by others, with times", "[.][measure][outside]") {
  if (!test::have_toulbar2() || !test::have_bayesjs()) return;
  fmt::print("{:<36}{:>6}{:>9}{:>12}{:>6}{:>10}{:>12}{:>10}{:>12}{:>10}\n", "", "", "sweep", "", "",
             "general", "", "toulbar2", "", "bayesjs");
  fmt::print("{:<36}{:>6}{:>9}{:>12}{:>6}{:>10}{:>12}{:>10}{:>12}{:>10}\n", "network", "nodes",
             "ms", "ln P(e)", "width", "ms", "ln P(e)", "ms", "ln P(e)", "ms");
  for (const Shape& shape : std::vector<Shape>{{6, 2, 3},
                                               {10, 4, 5},
                                               {20, 6, 8},
                                               {30, 6, 12},
                                               {30, 8, 12},
                                               {40, 8, 16},
                                               {80, 6, 30},
                                               {80, 8, 30},
                                               {80, 10, 30},
                                               {80, 12, 30}}) {
    compare(
        fmt::format("{} causes, {} present, {} links", shape.causes, shape.present, shape.links),
        noisy_or(shape));
  }
}

}  // namespace tickover
