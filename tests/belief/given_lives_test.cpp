/// @file
/// What was seen of findings, given how every cause lived: against the belief with the lives known.
#include "engine/belief/given_lives.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "engine/belief/infer.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/inhibited_case.hpp"

namespace tickover::belief_given_lives_test {
namespace {

using namespace belief;

/// Every cause with one of its ways to have lived.
Lived some_lives(test::Random& random, const Case& given) {
  Lived lived;
  for (std::uint32_t cause = 0; cause < given.network->causes.size(); ++cause) {
    const std::vector<LifeChance> ways = lives(given, cause);
    const Life life = ways[random.below(ways.size())].life;
    if (life != Life{}) lived.emplace_back(cause, life);
  }
  return lived;
}

/// The case with the lives known, epoch by epoch.
Case with_lives(Case given, const Lived& lived) {
  for (std::size_t cause = 0; cause < given.network->causes.size(); ++cause) {
    const auto its = std::find_if(lived.begin(), lived.end(),
                                  [&](const auto& one) { return one.first == cause; });
    for (Epoch epoch = 0; epoch <= given.now; ++epoch) {
      const bool there = its != lived.end() && its->second.in(epoch);
      given.seen.push_back({cause, epoch, there ? 1.0 : 0.0, there ? 0.0 : 1.0, 0});
    }
  }
  return given;
}

}  // namespace

// P(e, lives) = P(lives) P(e | lives), both sides by sweeps; lives that end in the same epoch by
// several ways are the same.
TEST_CASE("what was seen given the lives is the belief's", "[belief][scenarios][property]") {
  std::size_t compared = 0, unlikely = 0;
  for (std::uint64_t seed = 0; seed < test::cases(400); ++seed) {
    CAPTURE(seed);
    Case given = seed % 2 == 0 ? test::random_case(seed) : test::inhibited_case(seed);
    given.seen.clear();
    test::Random random(seed);
    const Lived lived = some_lives(random, given);
    std::vector<std::size_t> all(given.network->findings.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    GivenLives seen(given, all);
    if (!seen.left_out().empty()) continue;
    const Case known = with_lives(given, lived);
    Case bare = known;
    bare.levels.clear();
    bare.soft.clear();
    if (!infer(known, 0).exact || !std::isfinite(log_evidence(bare))) continue;
    ++compared;
    const double expected = std::exp(log_evidence(known) - log_evidence(bare));
    const double told = seen.of(lived);
    unlikely += expected == 0;
    CHECK(told == Approx(expected).epsilon(1e-9).margin(1e-13));
    CHECK(seen.of(lived) == told);  // nothing is left of the question before
  }
  CHECK(compared > test::cases(400) / 2);
  CHECK(unlikely < compared / 2);
}

TEST_CASE("a finding looked at in too many epochs is left out", "[belief][scenarios]") {
  Network network;
  network.causes = {{0.2, 0}};
  network.findings = {{{0.1}, {{0, {0.6}}}}, {{0.1}, {{0, {0.6}}}}};
  Case given;
  given.network = network;
  given.now = 7;
  for (Epoch epoch = 0; epoch <= given.now; ++epoch) given.levels.push_back({0, epoch, 1, 0});
  given.levels.push_back({1, 0, 0, 0});
  GivenLives seen(given, {0, 1});
  CHECK(seen.left_out() == std::vector<std::size_t>{0});
  CHECK(seen.of(Lived{{0, {0, kForever}}}) == Approx(0.9 * 0.4));
  CHECK(seen.of(Lived{}) == Approx(0.9));
}

}  // namespace tickover::belief_given_lives_test
