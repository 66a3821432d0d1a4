/// @file
/// Passes that keep their vectors a segment at a time, against the same passes that keep all.
#include "engine/belief/checkpoints.hpp"

#include <catch2/catch.hpp>
#include <numeric>

#include "engine/belief/prepared.hpp"
#include "engine/belief/scenarios.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/synthetic.hpp"

namespace tickover::belief_checkpoints_test {
namespace {

using namespace belief;

constexpr std::uint64_t kCases = test::cases(60);

Case some_case(std::uint64_t seed) {
  if (seed % 2 == 0) return test::random_case(seed);
  return test::synthetic_case(seed, {.cylinders = 3, .links = test::Links::crossing}, {4, 2, 10});
}

bool same(const Scaled& a, const Scaled& b) {
  return a.mantissa == b.mantissa && a.exponent == b.exponent;
}

}  // namespace

TEST_CASE("a pass is one segment while there is plenty", "[belief][checkpoints]") {
  CHECK(segments({}) == std::vector<std::size_t>{0});
  CHECK(segments({8, 8, 8}, 24) == std::vector<std::size_t>{0});
}

TEST_CASE("a long pass keeps some 2 sqrt(n) vectors", "[belief][checkpoints]") {
  const std::vector<std::size_t> kept(400, 16);
  const std::vector<std::size_t> first = segments(kept, 100);
  CHECK(first.size() == 20);
  for (std::size_t g = 0; g < first.size(); ++g) CHECK(first[g] == 20 * g);
}

TEST_CASE("no segment keeps more than the largest step asks for", "[belief][checkpoints]") {
  const std::vector<std::size_t> kept = {1, 1000, 1, 1, 1000, 1000, 1, 0, 0, 5};
  const std::vector<std::size_t> first = segments(kept, 10);
  REQUIRE(first.size() > 1);
  for (std::size_t g = 0; g < first.size(); ++g) {
    const std::size_t end = g + 1 < first.size() ? first[g + 1] : kept.size();
    CHECK(std::accumulate(kept.begin() + static_cast<std::ptrdiff_t>(first[g]),
                          kept.begin() + static_cast<std::ptrdiff_t>(end), std::size_t{0}) <= 1733);
  }
}

TEST_CASE("a sweep in segments gives the same bits", "[belief][checkpoints][property]") {
  std::size_t cut = 0;
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    const Case given = some_case(seed);
    const std::vector<std::size_t> gone = {0};
    Prepared ready;
    ready.pose(given, &gone);
    const Problem& problem = ready.problem();
    Sweep whole, parts;
    whole.set(problem, ready.schedule());
    parts.set(problem, ready.schedule(), 1);
    Shares shares(problem.variables.size(), 0.25);
    CHECK(same(whole.both_ways(&shares), parts.both_ways(&shares)));
    for (std::uint32_t s = 0; s < problem.states.size(); ++s) {
      CHECK(same(whole.mass(s), parts.mass(s)));
    }
    for (std::size_t v = 0; v < shares.size(); v += 1 + seed % 3) {  // now here, now there
      shares[v * 7 % shares.size()] = 0.5;
      CHECK(same(whole.forward_again(shares), parts.forward_again(shares)));
    }
    CHECK(same(whole.both_ways(), parts.both_ways()));
    if (parts.held() < whole.held()) ++cut;
  }
  CHECK(cut > kCases / 4);
}

TEST_CASE("draws in segments are the same draws", "[belief][checkpoints][property]") {
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    const Case given = some_case(seed);
    const Scenarios source(given, {0});
    const std::vector<Scenario> whole = source.draw(500, seed);
    const std::vector<Scenario> parts = source.draw(500, seed, 1);
    REQUIRE(whole.size() == parts.size());
    for (std::size_t i = 0; i < whole.size(); ++i) {
      CHECK(whole[i].draws == parts[i].draws);
      CHECK(whole[i].present == parts[i].present);
      CHECK(whole[i].must_go == parts[i].must_go);
      CHECK(whole[i].curable == parts[i].curable);
    }
  }
}

}  // namespace tickover::belief_checkpoints_test
