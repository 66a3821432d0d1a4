/// @file
/// A look that cannot show anything while an inhibitor is present: against enumeration on random
/// cases, and by hand.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "engine/belief/enumerate.hpp"
#include "engine/belief/infer.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/inhibited_case.hpp"
#include "tests/support/near.hpp"

namespace tickover::belief_inhibited_test {
namespace {

using namespace belief;
using test::Near;
using test::NearLog;

/// What the enumerator says of all accounts that agree with `one` on the causes of `spoken`.
long double probability_of(const Explanation& one, const Enumeration& expected,
                           const std::set<std::size_t>& spoken) {
  std::vector<Life> named(expected.present_now.size());
  for (std::size_t i = 0; i < one.causes.size(); ++i) named[one.causes[i]] = one.lives[i];
  long double sum = 0;
  for (const auto& [account, probability] : expected.explanations) {
    const bool agrees =
        std::all_of(spoken.begin(), spoken.end(),
                    [&, &lives = account](std::size_t c) { return lives[c] == named[c]; });
    if (agrees) sum += probability;
  }
  return sum;
}

/// One cause, one finding, one inhibitor of all of it.
Case hand_case() {
  Case given;
  given.network.own().causes = {{0.2, 0}, {0.1, 0}};  // the fault; the dead starter
  given.network.own().findings = {{{0.05}, {{0, {0.6}, {1}}}, {1}}};
  return given;
}

}  // namespace

TEST_CASE("inhibited findings agree with enumeration", "[belief][inhibited][property]") {
  std::size_t compared = 0, hidden = 0;
  for (std::uint64_t seed = 0; seed < test::cases(2500); ++seed) {
    CAPTURE(seed);
    const Case given = test::inhibited_case(seed);
    if (test::combinations(given) > 3e5) continue;
    const Enumeration expected = enumerate(given);
    const Belief belief = infer(given);
    if (!belief.exact) continue;
    CHECK(belief.contradiction == std::isinf(expected.log_evidence));
    CHECK(belief.log_evidence == NearLog{expected.log_evidence});
    for (std::size_t c = 0; c < belief.present_now.size(); ++c) {
      CAPTURE(c);
      CHECK(belief.present_at_start[c] == Near{expected.present_at_start[c]});
      CHECK(belief.present_now[c] == Near{expected.present_now[c]});
    }
    ++compared;
    const auto& findings = given.network->findings;
    hidden += std::any_of(findings.begin(), findings.end(),
                          [](const Finding& finding) { return finding.inhibited(); });
  }
  CHECK(compared > test::cases(2000));
  CHECK(hidden > test::cases(1000));
}

// The look in the middle tells nothing more, or does where an inhibitor may have gone.
TEST_CASE("a finding seen alike again and again agrees with enumeration",
          "[belief][inhibited][property]") {
  std::size_t compared = 0;
  for (std::uint64_t seed = 0; seed < test::cases(1500); ++seed) {
    CAPTURE(seed);
    Case given = test::inhibited_case(seed);
    if (given.now < 2) continue;
    test::Random random(seed);
    const std::size_t finding = random.below(given.network->findings.size());
    std::erase_if(given.levels, [&](const auto& seen) { return seen.finding == finding; });
    const std::size_t level = random.below(given.network->findings[finding].leak.size() + 1);
    for (Epoch epoch = 0; epoch <= given.now; ++epoch) {
      given.levels.push_back({finding, epoch, level, 0});
    }
    if (test::combinations(given) > 2e4) continue;
    const Belief belief = infer(given);
    if (!belief.exact) continue;
    const Enumeration expected = enumerate(given);
    CHECK(belief.log_evidence == NearLog{expected.log_evidence});
    for (std::size_t c = 0; c < belief.present_now.size() && !belief.contradiction; ++c) {
      CHECK(belief.present_now[c] == Near{expected.present_now[c]});
    }
    compared += !belief.contradiction && given.network->findings[finding].inhibited();
  }
  CHECK(compared > test::cases(50));
}

TEST_CASE("explanations of inhibited findings agree with enumeration",
          "[belief][inhibited][property]") {
  std::size_t compared = 0;
  for (std::uint64_t seed = 0; seed < test::cases(600); ++seed) {
    CAPTURE(seed);
    const Case given = test::inhibited_case(seed);
    if (test::combinations(given) > 2e4 || !infer(given).exact) continue;
    const Enumeration expected = enumerate(given);
    const std::vector<Explanation> all = explanations(given, 100000);
    std::set<std::size_t> spoken;
    for (const Explanation& one : all) spoken.insert(one.causes.begin(), one.causes.end());
    for (std::size_t i = 0; i < std::min<std::size_t>(all.size(), 20); ++i) {
      CAPTURE(i);
      CHECK(all[i].probability == Near{probability_of(all[i], expected, spoken)});
      CHECK((i == 0 || all[i].probability <= all[i - 1].probability * (1 + 1e-12)));
    }
    compared += !all.empty();
  }
  CHECK(compared > test::cases(250));
}

// P(no) = P(dead) + P(starter works) * P(nothing shows)
//       = 0.1 + 0.9 * 0.95 * (1 - 0.2 * 0.6) = 0.1 + 0.9 * 0.836 = 0.8524.
// With the fault: 0.1 + 0.9 * 0.95 * 0.4 = 0.442; with the starter dead: 1.
TEST_CASE("a negative answer of a test that may be spoiled, by hand", "[belief][inhibited]") {
  Case given = hand_case();
  given.levels = {{0, 0, 0, 0}};
  const Belief belief = infer(given);
  CHECK(std::exp(belief.log_evidence) == Approx(0.8524).epsilon(1e-12));
  CHECK(belief.present_now[0] == Approx(0.2 * 0.442 / 0.8524).epsilon(1e-12));
  CHECK(belief.present_now[1] == Approx(0.1 / 0.8524).epsilon(1e-12));
  // known to be dead, it tells nothing at all
  given.seen = {{1, 0, 1, 0, 1}};
  CHECK(infer(given).present_now[0] == Approx(0.2).epsilon(1e-12));
  // known to work, it tells what it always did
  given.seen = {{1, 0, 0, 1, 1}};
  CHECK(infer(given).present_now[0] == Approx(0.2 * 0.38 / 0.836).epsilon(1e-12));
}

// P(yes) = 0.9 * (1 - 0.836) = 0.1476; with the fault 0.9 * (1 - 0.95 * 0.4) = 0.558.
TEST_CASE("a positive answer says that nothing spoils the test, by hand", "[belief][inhibited]") {
  Case given = hand_case();
  given.levels = {{0, 0, 1, 0}};
  const Belief belief = infer(given);
  CHECK(std::exp(belief.log_evidence) == Approx(0.1476).epsilon(1e-12));
  CHECK(belief.present_now[0] == Approx(0.2 * 0.558 / 0.1476).epsilon(1e-12));
  CHECK(belief.present_now[1] == 0);
}

// Two cylinders, each with a fault and a starter of its own; the engine is asked as a whole. Let a
// place be silent with s = 1 - 0.2 * 0.6 * 0.9 = 0.892 (fault, shows, starter works), no leak.
// P(yes) = 1 - 0.892^2; the other cylinder may have shown it, so a dead starter stays possible:
// P(yes, starter 1 dead) = 0.1 * (1 - 0.892).
TEST_CASE("a dead starter hides the fault of its own cylinder alone, by hand",
          "[belief][inhibited]") {
  Case given;
  given.network.own().causes = {{0.2, 0}, {0.2, 0}, {0.1, 0}, {0.1, 0}};
  given.network.own().findings = {{{0}, {{0, {0.6}, {2}}, {1, {0.6}, {3}}}}};
  given.levels = {{0, 0, 1, 0}};
  const double yes = 1 - 0.892 * 0.892;
  const Belief belief = infer(given);
  CHECK(std::exp(belief.log_evidence) == Approx(yes).epsilon(1e-12));
  CHECK(belief.present_now[2] == Approx(0.1 * (1 - 0.892) / yes).epsilon(1e-12));
  // starter 1 dead for sure: only cylinder 2 can have answered
  given.seen = {{2, 0, 1, 0, 1}};
  CHECK(infer(given).present_now[0] == Approx(0.2).epsilon(1e-12));
  CHECK(infer(given).present_now[1] == 1);
}

// The starter repaired between two tests: no, then yes. The fault was there all along.
TEST_CASE("a spoiled test tells again once the spoiler is repaired", "[belief][inhibited]") {
  Case given = hand_case();
  given.network.own().findings[0].leak = {0.0};
  given.now = 1;
  given.removals = {{1, 1, 1, 2}};
  given.levels = {{0, 0, 0, 1}, {0, 1, 1, 3}};
  // yes needs fault and draw: 0.2 * 0.6; no before needs the starter dead: 0.1
  const Belief belief = infer(given);
  CHECK(std::exp(belief.log_evidence) == Approx(0.2 * 0.6 * 0.1).epsilon(1e-12));
  CHECK(belief.present_at_start[0] == 1);
  CHECK(belief.present_at_start[1] == 1);
  CHECK(belief.present_now[1] == 0);
}

// Hidden is not cured: P(fault shows nothing | no) = [0.1 * (1 - 0.12) + 0.9 * 0.88] / P(no),
// P(no) = 0.1 + 0.9 * 0.88 = 0.892 without leak.
TEST_CASE("a complaint that is hidden is not cured", "[belief][inhibited]") {
  Case given = hand_case();
  given.network.own().findings[0].leak = {0.0};
  given.levels = {{0, 0, 0, 0}};
  CHECK(cured(given, {0}, {}) == Approx(0.88 / 0.892).epsilon(1e-12));
  CHECK(cured(given, {0}, {{0, 0, 1, 0}}) == Approx(1).epsilon(1e-12));
}

}  // namespace tickover::belief_inhibited_test
