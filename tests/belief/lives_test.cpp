/// @file
/// The ways one cause can have lived: hand-worked cases, and a walk through the epochs one by one.
#include <catch2/catch.hpp>
#include <map>
#include <numeric>

#include "engine/belief/network.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::belief_lives_test {
namespace {

using namespace belief;

/// Life -> probability, lives without a chance left out.
using Chances = std::map<std::pair<Epoch, Epoch>, double>;

Chances chances_of(const Case& given, std::size_t cause) {
  Chances chances;
  for (const LifeChance& way : lives(given, cause)) {
    if (way.probability > 0) chances[{way.life.begin, way.life.end}] += way.probability;
  }
  return chances;
}

void check_equal(const Chances& got, const Chances& expected) {
  REQUIRE(got.size() == expected.size());
  for (const auto& [life, probability] : expected) {
    CAPTURE(life.first, life.second);
    REQUIRE(got.count(life) == 1);
    CHECK(got.at(life) == Approx(probability).epsilon(1e-14));
  }
}

/// One cause, prior 0.2, disturbed 0.1, linked to the first of two findings.
Case one_cause() {
  Case c;
  c.network.own().causes = {{0.2, 0.1}};
  c.network.own().findings = {{{0.0}, {{0, {0.5}}}}, {{0.0}, {}}};
  c.now = 3;
  return c;
}

bool opens(const Case& given, const std::vector<Window>& windows, std::size_t cause, Epoch epoch) {
  for (const Window& window : windows) {
    for (const Link& link : given.network->findings[window.finding].links) {
      if (window.epoch == epoch && link.cause == cause) return true;
    }
  }
  return false;
}

/// Takes one chance event after the other from the start of `epoch` on: repairs, then disturbance.
void walk(const Case& given, std::size_t cause, Epoch epoch, Life life, double chance,
          Chances& out) {
  if (epoch > given.now) {
    out[{life.begin, life.end}] += chance;
    return;
  }
  double staying = chance;
  for (const Removal& removal : given.removals) {
    if (removal.cause != cause || removal.epoch != epoch || !life.in(epoch)) continue;
    walk(given, cause, epoch + 1, {life.begin, epoch}, staying * removal.success, out);
    staying *= 1 - removal.success;
  }
  if (life.in(epoch) && opens(given, given.fades, cause, epoch)) {
    walk(given, cause, epoch + 1, {life.begin, epoch}, staying * given.fade, out);
    staying *= 1 - given.fade;
  }
  if (life == Life{0, 0} && opens(given, given.windows, cause, epoch)) {
    const double disturbed = given.network->causes[cause].disturbed;
    walk(given, cause, epoch + 1, {epoch, kForever}, staying * disturbed, out);
    staying *= 1 - disturbed;
  }
  walk(given, cause, epoch + 1, life, staying, out);
}

Chances walked(const Case& given, std::size_t cause) {
  Chances all;
  const double prior = given.network->causes[cause].prior;
  walk(given, cause, 1, {0, 0}, 1 - prior, all);
  walk(given, cause, 1, {0, kForever}, prior, all);
  Chances possible;
  for (const auto& [life, chance] : all) {
    if (chance > 0) possible.emplace(life, chance);
  }
  return possible;
}

}  // namespace

TEST_CASE("a cause nobody touches was always or never there", "[belief][lives]") {
  check_equal(chances_of(one_cause(), 0), {{{0, 0}, 0.8}, {{0, kForever}, 0.2}});
}

TEST_CASE("a removal ends a life with its success", "[belief][lives]") {
  Case c = one_cause();
  c.removals = {{0, 2, 0.5, 0}, {0, 1, 0.75, 0}};  // listed out of order on purpose
  // 0.2 * 0.75; then 0.2 * 0.25 * 0.5 gone at 2, and as much still there.
  check_equal(chances_of(c, 0),
              {{{0, 0}, 0.8}, {{0, 1}, 0.15}, {{0, 2}, 0.025}, {{0, kForever}, 0.025}});
}

TEST_CASE("two removals in one epoch are two attempts", "[belief][lives]") {
  Case c = one_cause();
  c.removals = {{0, 1, 0.75, 0}, {0, 1, 0.5, 0}};  // both fail: 1/8
  check_equal(chances_of(c, 0), {{{0, 0}, 0.8}, {{0, 1}, 0.175}, {{0, kForever}, 0.025}});
}

TEST_CASE("what a finding that fades comes from may end there", "[belief][lives]") {
  Case c = one_cause();
  c.now = 2;
  c.fade = 0.5;
  c.fades = {{0, 2}, {1, 1}};     // the cause is not linked to the second
  c.removals = {{0, 2, 0.5, 0}};  // 0.2 * 0.5 * 0.5 stays
  check_equal(chances_of(c, 0), {{{0, 0}, 0.8}, {{0, 2}, 0.15}, {{0, kForever}, 0.05}});
  const std::vector<LifeChance> leak = lives_of_leak(c, 0, 1);
  REQUIRE(leak.size() == 2);
  CHECK(leak[0].life == Life{1, 2});
  CHECK(leak[0].probability == 0.5);
  CHECK(leak[1].life == Life{1, kForever});
  CHECK(leak[1].probability == 0.5);
  CHECK(lives_of_leak(c, 0, 2).size() == 1);
  CHECK(lives_of_leak(c, 1, 1).size() == 1);
}

TEST_CASE("a cause may arise at the windows of findings it can produce", "[belief][lives]") {
  Case c = one_cause();
  c.windows = {{1, 1}};  // not linked
  check_equal(chances_of(c, 0), {{{0, 0}, 0.8}, {{0, kForever}, 0.2}});
  c.windows = {{0, 1}, {0, 3}};  // 0.8 * 0.1, 0.8 * 0.9 * 0.1
  check_equal(
      chances_of(c, 0),
      {{{0, 0}, 0.648}, {{0, kForever}, 0.2}, {{1, kForever}, 0.08}, {{3, kForever}, 0.072}});
}

TEST_CASE("windows of two findings in one epoch disturb a cause once", "[belief][lives]") {
  Case c = one_cause();
  c.network.own().findings[1].links = {{0, {0.5}}};
  c.windows = {{0, 1}, {1, 1}};
  check_equal(chances_of(c, 0), {{{0, 0}, 0.72}, {{0, kForever}, 0.2}, {{1, kForever}, 0.08}});
}

TEST_CASE("a removed cause does not come back, a later one can be removed", "[belief][lives]") {
  Case c = one_cause();
  c.windows = {{0, 1}};
  c.removals = {{0, 1, 1.0, 0}, {0, 2, 0.5, 0}};  // the first comes before the disturbance
  check_equal(chances_of(c, 0),
              {{{0, 0}, 0.72}, {{0, 1}, 0.2}, {{1, 2}, 0.04}, {{1, kForever}, 0.04}});
}

TEST_CASE("lives agree with a walk through the epochs", "[belief][lives][property]") {
  for (std::uint64_t seed = 0; seed < test::cases(2000); ++seed) {
    CAPTURE(seed);
    const Case given = test::random_case(seed);
    for (std::size_t cause = 0; cause < given.network->causes.size(); ++cause) {
      CAPTURE(cause);
      check_equal(chances_of(given, cause), walked(given, cause));
    }
  }
}

TEST_CASE("lives come in order, each once, and sum to 1", "[belief][lives][property]") {
  for (std::uint64_t seed = 0; seed < test::cases(2000); ++seed) {
    CAPTURE(seed);
    const Case given = test::random_case(seed);
    for (std::size_t cause = 0; cause < given.network->causes.size(); ++cause) {
      const std::vector<LifeChance> ways = lives(given, cause);
      double sum = 0;
      for (std::size_t i = 0; i < ways.size(); ++i) {
        sum += ways[i].probability;
        if (i < 2) continue;
        const Life& before = ways[i - 1].life;
        const Life& life = ways[i].life;
        CHECK(std::pair(before.begin, before.end) < std::pair(life.begin, life.end));
      }
      CHECK(ways.front().life == Life{0, 0});
      CHECK(sum == Approx(1).epsilon(1e-14));
    }
  }
}

}  // namespace tickover::belief_lives_test
