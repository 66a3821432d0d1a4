/// @file
/// Published networks with their answers, through general elimination and through the sweep that
/// answers jobs.
#include "tests/support/published.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/belief/infer.hpp"
#include "engine/belief/tables/infer.hpp"
#include "tests/support/as_case.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/random_graph.hpp"

namespace tickover::tables_published_test {
namespace {

using namespace belief::tables;
using test::Published;

/// P(variable in that state) by the sweep: the states of up to three are single digits.
double by_sweep(const test::AsCase& one, const belief::Belief& belief, std::size_t variable,
                std::size_t state) {
  double none = 1;
  for (std::size_t digit = 0; digit < one.causes[variable].size(); ++digit) {
    const double p = belief.present_now[one.causes[variable][digit]];
    if (state == std::size_t{1} << digit) return p;
    none -= p;
  }
  return none;
}

}  // namespace

TEST_CASE("published networks by general elimination", "[belief][tables][published]") {
  for (const Published& one : test::published()) {
    const FactorGraph graph = test::published_network(one.network);
    CAPTURE(one.network, one.evidence);
    const Posterior got = infer(graph, one.observed);
    if (one.evidence > 0) {
      CHECK(std::exp(got.log_evidence) == Approx(one.evidence).epsilon(0).margin(5e-9));
    }
    for (const Published::Marginal& m : one.marginals) {
      CAPTURE(m.variable, m.state);
      CHECK(std::abs(got.marginals[m.variable][m.state] - m.probability) < one.digits);
    }
    if (one.best.empty()) continue;
    const MostProbable best = most_probable(graph, one.observed);
    CHECK(best.states == one.best);
    CHECK(std::exp(best.log_probability) == Approx(one.best_probability).epsilon(0).margin(5e-9));
  }
}

TEST_CASE("published networks by the sweep that answers jobs", "[belief][tables][published]") {
  for (const Published& one : test::published()) {
    const FactorGraph graph = test::published_network(one.network);
    CAPTURE(one.network, one.evidence);
    const test::AsCase as = test::as_case(graph, one.observed);
    const belief::Belief got = belief::infer(as.given);
    REQUIRE(got.exact);
    if (one.evidence > 0) {
      CHECK(std::exp(got.log_evidence + as.log_scale) ==
            Approx(one.evidence).epsilon(0).margin(5e-9));
    }
    for (const Published::Marginal& m : one.marginals) {
      CAPTURE(m.variable, m.state);
      CHECK(std::abs(by_sweep(as, got, m.variable, m.state) - m.probability) < one.digits);
    }
    if (one.best.empty()) continue;
    const auto best = belief::explanations(as.given, 1);
    REQUIRE(best.size() == 1);
    CHECK(test::states_of(as, best[0].causes) == one.best);
    CHECK(best[0].probability * one.evidence ==
          Approx(one.best_probability).epsilon(0).margin(5e-9));
  }
}

TEST_CASE("random networks by the sweep and by general elimination", "[belief][tables][property]") {
  std::size_t compared = 0;
  for (std::uint64_t seed = 1; seed <= test::cases(1000); ++seed) {
    CAPTURE(seed);
    const test::GraphCase one = test::random_graph(seed);
    const test::AsCase as = test::as_case(one.graph, one.observed);
    const belief::Belief got = belief::infer(as.given);
    if (!got.exact) continue;
    ++compared;
    const Posterior expected = infer(one.graph, one.observed);
    const bool impossible = got.contradiction || std::isinf(as.log_scale);
    REQUIRE(impossible == expected.contradiction);
    if (impossible) continue;
    CHECK(got.log_evidence + as.log_scale ==
          Approx(expected.log_evidence).epsilon(1e-11).margin(1e-11));
    for (std::size_t v = 0; v < one.graph.cardinality.size(); ++v) {
      for (std::size_t digit = 0; digit < as.causes[v].size(); ++digit) {
        double sum = 0;
        for (std::size_t s = 0; s < one.graph.cardinality[v]; ++s) {
          if (s >> digit & 1) sum += expected.marginals[v][s];
        }
        CHECK(std::abs(got.present_now[as.causes[v][digit]] - sum) < 1e-11);
      }
    }
  }
  CHECK(compared > test::cases(1000) / 4);
}

}  // namespace tickover::tables_published_test
