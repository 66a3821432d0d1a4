/// @file
/// Bounds where a case is too wide: they hold, they tighten, and nothing breaks them.
#include "engine/belief/bounds.hpp"

#include <catch2/catch.hpp>

#include "engine/belief/infer.hpp"
#include "engine/belief/prepared.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/inhibited_case.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/synthetic.hpp"

namespace tickover::belief_bounds_test {
namespace {

using namespace belief;

constexpr double kRounding = 1e-11;

double looseness(const Bounding& bounds) {
  double sum = 0;
  for (std::size_t c = 0; c < bounds.low().size(); ++c) sum += bounds.high()[c] - bounds.low()[c];
  return sum / static_cast<double>(std::max<std::size_t>(bounds.low().size(), 1));
}

void check_holds(const Bounding& bounds, const Belief& exact) {
  CHECK(bounds.log_evidence_low() <= exact.log_evidence + kRounding);
  CHECK(bounds.log_evidence_high() >= exact.log_evidence - kRounding);
  for (std::size_t c = 0; c < exact.present_now.size(); ++c) {
    CAPTURE(c);
    CHECK(bounds.low()[c] <= exact.present_now[c] + kRounding);
    CHECK(bounds.high()[c] >= exact.present_now[c] - kRounding);
  }
}

/// Refined `steps` times, the bounds hold at each and are never looser than before.
void check_refining(Bounding& bounds, const Belief& exact, int steps) {
  check_holds(bounds, exact);
  for (int step = 0; step < steps; ++step) {
    CAPTURE(step);
    const std::vector<double> low = bounds.low(), high = bounds.high();
    if (!bounds.refine()) return;
    check_holds(bounds, exact);
    for (std::size_t c = 0; c < low.size(); ++c) {
      CHECK(bounds.low()[c] >= low[c]);
      CHECK(bounds.high()[c] <= high[c]);
    }
  }
}

}  // namespace

TEST_CASE("bounds hold on random cases, however narrow the sweeps", "[belief][bounds]") {
  std::size_t set_aside = 0;
  for (std::uint64_t seed = 0; seed < test::cases(600); ++seed) {
    CAPTURE(seed);
    const Case given = seed % 2 == 0 ? test::random_case(seed) : test::inhibited_case(seed);
    const Belief exact = infer(given);
    if (exact.contradiction || !exact.exact) continue;
    for (const std::size_t widest : {0u, 1u, 3u}) {
      CAPTURE(widest);
      if (exact.width <= widest) continue;
      Bounding bounds(given, widest);
      check_refining(bounds, exact, 4);
      ++set_aside;
    }
  }
  CHECK(set_aside > test::cases(600));
}

TEST_CASE("refined to the end, bounds meet at the exact answer", "[belief][bounds]") {
  for (std::uint64_t seed = 0; seed < 3; ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    const Case given = test::wide_case(random, 7);
    const Belief exact = infer(given);
    REQUIRE(exact.exact);
    Bounding bounds(given, 3);
    const double first = looseness(bounds);
    CHECK(first > 0);
    while (bounds.refine()) {
    }
    check_holds(bounds, exact);
    CHECK(looseness(bounds) < 1e-9);
  }
}

TEST_CASE("bounds meet for every kind of finding once all causes are split", "[belief][bounds]") {
  std::size_t met = 0, spoiled = 0, again = 0, sensed = 0;
  for (std::uint64_t seed = 0; seed < test::cases(800); ++seed) {
    CAPTURE(seed);
    const Case given = seed % 2 == 0 ? test::random_case(seed) : test::inhibited_case(seed);
    const Belief exact = infer(given);
    if (exact.contradiction || !exact.exact || test::combinations(given) > 300) continue;
    for (const std::size_t widest : {0u, 3u}) {
      CAPTURE(widest);
      if (exact.width <= widest) continue;
      Bounding bounds(given, widest);
      while (bounds.refine()) check_holds(bounds, exact);
      check_holds(bounds, exact);
      CHECK(looseness(bounds) < 1e-6);
      CHECK(bounds.log_evidence_high() - bounds.log_evidence_low() < 1e-6);
      ++met;
      spoiled += seed % 2;
      again += given.fades.empty() && given.windows.empty() ? 0 : 1;
      sensed += given.soft.empty() ? 0 : 1;
    }
  }
  for (const std::size_t count : {met, spoiled, again, sensed}) CHECK(count > test::cases(40));
}

TEST_CASE("on a synthetic pack bounds close in with time", "[belief][bounds]") {
  for (const test::Links links : {test::Links::dense, test::Links::sparse}) {
    for (std::uint64_t seed = 0; seed < 3; ++seed) {
      CAPTURE(seed, static_cast<int>(links));
      const Case given = test::synthetic_case(seed, {.links = links}, {8, 1, 40});
      const Belief exact = infer(given);
      REQUIRE(exact.exact);
      Bounding bounds(given, 5);
      const double first = looseness(bounds);
      check_refining(bounds, exact, 30);
      CHECK(looseness(bounds) < 0.7 * first);
    }
  }
}

namespace {

/// Findings of a random network each several times, probabilities of 0 and 1 among them.
Case nasty_case(std::uint64_t seed, std::size_t causes, std::size_t present) {
  test::Random random(seed);
  const auto probability = [&] {
    const double kind = random.unit();
    return kind < 0.1 ? 0 : kind < 0.2 ? 1 : kind < 0.5 ? random.unit() * 1e-3 : random.unit();
  };
  Case given;
  for (std::size_t c = 0; c < causes; ++c) given.network.own().causes.push_back({probability(), 0});
  while (given.network->findings.size() < 2 * present) {
    Finding finding{{probability()}, {}};
    for (std::size_t c = 0; c < causes; ++c) {
      if (random.chance(0.2)) finding.links.push_back({c, {probability()}});
    }
    for (std::size_t copies = 1 + random.below(3); copies > 0; --copies) {
      given.levels.push_back({given.network->findings.size(), 0, random.below(4) > 0 ? 1u : 0u, 0});
      given.network.own().findings.push_back(finding);
    }
  }
  return given;
}

}  // namespace

TEST_CASE("no network breaks the belief: 500 causes, 60 present findings, zeros and ones",
          "[belief][bounds]") {
  for (std::uint64_t seed = 0; seed < 6; ++seed) {
    CAPTURE(seed);
    const Case given = nasty_case(seed, seed < 3 ? 60 : 500, seed < 3 ? 20 : 40);
    const Belief belief = infer(given, 1);
    REQUIRE(belief.present_now.size() == given.network->causes.size());
    for (std::size_t c = 0; c < belief.present_now.size(); ++c) {
      CHECK(belief.present_now[c] >= 0);
      CHECK(belief.present_now[c] <= 1);
      if (belief.exact || belief.contradiction) continue;
      CHECK(belief.low[c] >= 0);
      CHECK(belief.low[c] <= belief.high[c]);
      CHECK(belief.high[c] <= 1);
    }
  }
}

TEST_CASE("the vectors of a sweep stay within their work and their memory", "[belief][bounds]") {
  const Case given = test::synthetic_case(
      1, {.cylinders = 12, .causes_of_cylinder = 40, .links = test::Links::dense}, {30, 1, 0});
  Prepared ready;
  ready.pose(given);
  std::size_t work = 0;
  for (const Step& step : ready.schedule().steps) work += step.size;
  CHECK(work <= kMostWork);
  CHECK(!ready.set_aside().empty());
  CHECK(ready.sweep().both_ways().mantissa > 0);
  CHECK(ready.sweep().held() * sizeof(double) <= std::size_t{64} << 20);
}

}  // namespace tickover::belief_bounds_test
