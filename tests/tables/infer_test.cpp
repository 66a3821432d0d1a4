/// @file
/// Variable elimination on networks of any shape against going through every assignment. A failure
/// prints the seed and a small network that fails too.
#include "engine/belief/tables/infer.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/support/cases.hpp"
#include "tests/support/near.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/random_graph.hpp"

namespace tickover::tables_infer_test {
namespace {

using namespace belief::tables;
using test::GraphCase;
using test::Near;
using test::NearLog;

constexpr std::uint64_t kCases = test::cases(6000);

bool right(const Posterior& got, const test::BruteForce& expected) {
  if (!(got.log_evidence == NearLog{std::log(expected.total)})) return false;
  if (got.contradiction != (expected.total == 0)) return false;
  for (std::size_t v = 0; v < got.marginals.size(); ++v) {
    for (std::size_t s = 0; s < got.marginals[v].size(); ++s) {
      if (!(got.marginals[v][s] == Near{expected.masses[v][s] / expected.total})) return false;
    }
  }
  return got.contradiction ? got.marginals.empty() : got.marginals.size() == expected.masses.size();
}

bool right(const MostProbable& got, const test::BruteForce& expected, const GraphCase& one) {
  if (got.contradiction) return expected.best == 0;
  const NearLog best{std::log(expected.best)};
  return got.log_probability == best &&
         static_cast<double>(std::log(test::product_at(one, got.states))) == best;
}

bool wrong(const GraphCase& one) {
  const test::BruteForce expected = test::brute_force(one);
  return !right(infer(one.graph, one.observed), expected) ||
         !right(most_probable(one.graph, one.observed), expected, one);
}

/// Variables in a square, each tied to its neighbours: as wide as the square's side.
FactorGraph grid(std::size_t side, test::Random& random) {
  FactorGraph graph{std::vector<std::size_t>(side * side, 2), {}};
  const auto tie = [&](std::size_t a, std::size_t b) {
    graph.factors.push_back({{a, b}, {random.unit(), random.unit(), random.unit(), random.unit()}});
  };
  for (std::size_t row = 0; row < side; ++row) {
    for (std::size_t column = 0; column < side; ++column) {
      if (row + 1 < side) tie(row * side + column, (row + 1) * side + column);
      if (column + 1 < side) tie(row * side + column, row * side + column + 1);
    }
  }
  return graph;
}

}  // namespace

TEST_CASE("elimination agrees with going through every assignment", "[belief][tables][property]") {
  std::size_t impossible = 0;
  for (std::uint64_t seed = 1; seed <= kCases; ++seed) {
    const GraphCase one = test::random_graph(seed);
    impossible += test::brute_force(one).total == 0;
    if (!wrong(one)) continue;
    FAIL_CHECK("seed " << seed << "; small:\n" << test::in_words(test::shrunk(one, wrong)));
  }
  CHECK(impossible > kCases / 100);
  CHECK(impossible < kCases / 2);
}

TEST_CASE("shrinking ends at what it takes to fail, and no more", "[belief][tables][support]") {
  const auto fails = [](const GraphCase& one) {  // somebody mixes up the ends of a long scope
    return std::any_of(one.graph.factors.begin(), one.graph.factors.end(), [](const Factor& f) {
      return f.scope.size() > 1 && f.values.front() != f.values.back();
    });
  };
  std::uint64_t seed = 1;
  while (!fails(test::random_graph(seed)) || test::random_graph(seed).graph.factors.size() < 5) {
    ++seed;
  }
  const GraphCase small = test::shrunk(test::random_graph(seed), fails);
  CHECK(small.graph.factors.size() == 1);
  CHECK(small.observed.empty());
  CHECK(small.graph.cardinality.size() == 2);
  const std::vector<double>& values = small.graph.factors.front().values;
  CHECK(std::count(values.begin(), values.end(), 1.0) + 1 == std::ssize(values));
}

TEST_CASE("evidence beyond the range of double", "[belief][tables]") {
  // 400 copies of a thing that is 1e-10: P(e) = 1e-4000, and the odds are kept
  FactorGraph graph{{2}, {}};
  for (int i = 0; i < 400; ++i) graph.factors.push_back({{0}, {1e-10, 1e-10}});
  graph.factors.push_back({{0}, {0.25, 0.5}});
  const Posterior got = infer(graph, {});
  CHECK(got.log_evidence == Approx(400 * std::log(1e-10) + std::log(0.75)).epsilon(1e-13));
  CHECK(got.marginals[0][1] == Approx(2.0 / 3).epsilon(1e-13));
  CHECK(most_probable(graph, {}).states == std::vector<std::size_t>{1});
}

TEST_CASE("a network too wide is refused with what it would take", "[belief][tables]") {
  test::Random random(7);
  const Posterior fits = infer(grid(12, random), {});
  CHECK_FALSE(fits.need.too_wide);
  CHECK(fits.need.treewidth >= 12);
  CHECK(fits.need.treewidth <= 16);
  const Posterior wide = infer(grid(25, random), {});
  CHECK(wide.need.too_wide);
  CHECK_FALSE(wide.need.at_least);
  CHECK(wide.need.treewidth >= 25);
  CHECK(wide.need.treewidth <= 42);
  CHECK(wide.need.bytes > kMostBytes);
  CHECK(wide.marginals.empty());
  CHECK(most_probable(grid(25, random), {}).need.too_wide);
  CHECK(infer(grid(12, random), {}, 1000).need.too_wide);
}

TEST_CASE("a hopeless network is given up early", "[belief][tables]") {
  FactorGraph all_with_all{std::vector<std::size_t>(330, 2), {}};
  for (std::size_t a = 0; a < 330; ++a) {
    for (std::size_t b = a + 1; b < 330; ++b) {
      all_with_all.factors.push_back({{a, b}, {0.5, 0.5, 0.5, 0.5}});
    }
  }
  const Posterior got = infer(all_with_all, {});
  CHECK(got.need.too_wide);
  CHECK(got.need.at_least);
  CHECK(got.need.treewidth == 329);
}

}  // namespace tickover::tables_infer_test
