/// @file
/// How far an answer can move, against how far it does on random cases with changed numbers. A
/// failure prints the seed.
#include "engine/belief/swing.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/support/cases.hpp"
#include "tests/support/inhibited_case.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::belief_swing_test {
namespace {

using namespace belief;

/// A probability moved some way, up or down, sometimes to 0 or 1.
void move(double& p, test::Random& random) {
  const std::size_t how = random.below(8);
  if (how == 0) p = 0;
  if (how == 1) p = 1;
  if (how > 1) p += (random.unit() < 0.5 ? -p : 1 - p) * random.unit() / 2;
}

void move_levels(std::vector<double>& levels, test::Random& random) {
  const std::vector<double> kept = levels;
  move(levels[random.below(levels.size())], random);
  double sum = 0;
  for (const double level : levels) sum += level;
  if (sum > 1) levels = kept;
}

/// One number of it changed, or what hangs on one number of the pack: alike at several places.
Case varied(Case given, test::Random& random) {
  Network& network = given.network.own();
  Finding& finding = network.findings[random.below(network.findings.size())];
  switch (random.below(5)) {
    case 0:
      move(network.causes[random.below(network.causes.size())].prior, random);
      break;
    case 1:
      for (Cause& cause : network.causes) cause.prior = std::sqrt(cause.prior);
      break;
    case 2:
      move_levels(finding.leak, random);
      break;
    case 3:
      for (Link& link : finding.links) move_levels(link.strength, random);
      break;
    default:
      if (!given.seen.empty()) move(given.seen[random.below(given.seen.size())].present, random);
      break;
  }
  return given;
}

}  // namespace

TEST_CASE("no answer moves further than told", "[belief][sensitivity][property]") {
  std::size_t asked = 0, told_little = 0;
  for (std::uint64_t seed = 0; seed < test::cases(3000); ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    const Case given = seed % 3 == 0 ? test::inhibited_case(seed) : test::random_case(seed);
    if (given.network->findings.empty() || given.network->causes.empty()) continue;
    const Belief before = infer(given);
    if (before.contradiction || !before.exact) continue;
    const Case other = varied(given, random);
    const Belief after = infer(other);
    if (after.contradiction) continue;
    for (std::size_t c = 0; c < before.present_now.size(); ++c) {
      CAPTURE(c);
      const double most = most_moved(given, before, other, c);
      CHECK(std::abs(after.present_now[c] - before.present_now[c]) <= most + 1e-10);
      ++asked;
      if (most < 0.2) ++told_little;
    }
  }
  CHECK(told_little > asked / 4);
}

}  // namespace tickover::belief_swing_test
