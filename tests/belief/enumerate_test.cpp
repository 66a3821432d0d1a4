/// @file
/// The enumerator against cases worked by hand, and against the textbook alternating sum.
#include "engine/belief/enumerate.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/support/cases.hpp"
#include "tests/support/inclusion_exclusion.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::belief_enumerate_test {
namespace {

using namespace belief;

Approx near(double value) { return Approx(value).epsilon(1e-14); }

double evidence(const Case& given) {
  return std::exp(static_cast<double>(enumerate(given).log_evidence));
}

double start(const Enumeration& answer, std::size_t cause) {
  return static_cast<double>(answer.present_at_start[cause]);
}

double now(const Enumeration& answer, std::size_t cause) {
  return static_cast<double>(answer.present_now[cause]);
}

double cured_after(const Case& given, const std::vector<Removal>& removals) {
  return static_cast<double>(enumerate_cured(given, {0}, removals));
}

/// One finding, leak 0.1; causes A and B certainly there with links 0.8 and 0.5, D not there but
/// easily disturbed, link 0.6. A is repaired before epoch 1.
Case repaired() {
  Case c;
  c.network.own().causes = {{1, 0}, {1, 0}, {0, 0.25}};
  c.network.own().findings = {{{0.1}, {{0, {0.8}}, {1, {0.5}}, {2, {0.6}}}}};
  c.removals = {{0, 1, 1.0, 0}};
  c.now = 1;
  return c;
}

Case repaired(std::size_t before, std::size_t after) {
  Case c = repaired();
  c.levels = {{0, 0, before, 0}, {0, 1, after, 1}};
  return c;
}

/// Cause (prior 0.5) -> finding of three levels, link {0.3, 0.4}, leak {0.1, 0.05}.
Case graded() {
  Case c;
  c.network.own().causes = {{0.5, 0}};
  c.network.own().findings = {{{0.1, 0.05}, {{0, {0.3, 0.4}}}}};
  return c;
}

/// One cause (prior 0.5) of two findings without leaks, links 0.8 and 0.5.
Case two_findings() {
  Case c;
  c.network.own().causes = {{0.5, 0}};
  c.network.own().findings = {{{0.0}, {{0, {0.8}}}}, {{0.0}, {{0, {0.5}}}}};
  return c;
}

}  // namespace

TEST_CASE("nothing observed leaves the priors", "[belief][enumerate]") {
  Case c = repaired();
  c.network.own().causes[0].prior = 0.3;
  c.removals[0].success = 0.75;
  const Enumeration answer = enumerate(c);
  CHECK(static_cast<double>(answer.log_evidence) == Approx(0).margin(1e-15));
  CHECK(start(answer, 0) == near(0.3));
  CHECK(now(answer, 0) == near(0.075));
}

TEST_CASE("present, then absent after a repair", "[belief][enumerate]") {
  // B and the leak silent, A not: 0.5 * 0.9 * 0.8.
  CHECK(evidence(repaired(1, 0)) == near(0.36));
}

TEST_CASE("present, then still present after a repair", "[belief][enumerate]") {
  // B or the leak speaks, then and now: 1 - 0.5 * 0.9.
  CHECK(evidence(repaired(1, 1)) == near(0.55));
}

TEST_CASE("absent, then absent", "[belief][enumerate]") {
  // All silent, 0.2 * 0.5 * 0.9: with the two above, 1.
  CHECK(evidence(repaired(0, 0)) == near(0.09));
}

TEST_CASE("absent, then present needs a window", "[belief][enumerate]") {
  Case c = repaired(0, 1);
  CHECK(std::isinf(enumerate(c).log_evidence));
  c.windows = {{0, 1}};
  // The first absence silences A, B and the leak for good: 0.09. Then the fresh leak or D, newly
  // arisen: 1 - 0.9 * (1 - 0.25 * 0.6) = 0.235.
  CHECK(evidence(c) == near(0.09 * 0.235));
  const Enumeration answer = enumerate(c);
  CHECK(start(answer, 2) == 0);
  CHECK(now(answer, 2) == near(0.25 * (1 - 0.9 * 0.4) / 0.235));
}

TEST_CASE("a repair that may fail, and a finding that went away", "[belief][enumerate]") {
  Case c = repaired(1, 0);
  c.network.own().causes[0].prior = 0.4;
  c.removals[0].success = 0.75;
  // Only A can have spoken, and had it stayed it would still speak: 0.4 * 0.8 * 0.75 * 0.45.
  CHECK(evidence(c) == near(0.108));
  CHECK(start(enumerate(c), 0) == near(1));
  CHECK(now(enumerate(c), 0) == 0);
}

TEST_CASE("the largest level produced is the one shown", "[belief][enumerate]") {
  Case c = graded();
  c.levels = {{0, 0, 1, 0}};
  // At most 1: 0.95 * (1 - 0.5 * 0.4) = 0.76; at most 0: 0.85 * (1 - 0.5 * 0.7) = 0.5525.
  CHECK(evidence(c) == near(0.2075));
  // With the cause: 0.95 * 0.6 - 0.85 * 0.3 = 0.315.
  CHECK(start(enumerate(c), 0) == near(0.5 * 0.315 / 0.2075));
  c.levels[0].level = 2;
  CHECK(evidence(c) == near(0.24));
  c.levels[0].level = 0;
  CHECK(evidence(c) == near(0.5525));
}

TEST_CASE("a graded finding that lessens, or worsens", "[belief][enumerate]") {
  Case c = graded();
  c.removals = {{0, 1, 1.0, 0}};
  c.now = 1;
  c.levels = {{0, 0, 2, 0}, {0, 1, 1, 1}};
  CHECK(evidence(c) == near(0.5 * 0.4 * 0.1));  // the cause made it 2, the leak 1
  c.levels = {{0, 0, 1, 0}, {0, 1, 2, 1}};
  CHECK(std::isinf(enumerate(c).log_evidence));
  c.windows = {{0, 1}};
  CHECK(evidence(c) == near(0.2075 * 0.05));  // only the fresh leak can have made it 2
}

TEST_CASE("one sensor on one finding", "[belief][enumerate]") {
  Case c = two_findings();
  c.soft = {{{0}, 0, {2, 5}, 0}};
  // P(present) = 0.4. With the cause: 0.2 * 2 + 0.8 * 5 = 4.4.
  CHECK(evidence(c) == near(0.6 * 2 + 0.4 * 5));
  CHECK(start(enumerate(c), 0) == near(0.5 * 4.4 / 3.2));
  c.soft.push_back({{0}, 0, {2, 5}, 1});
  CHECK(evidence(c) == near(0.6 * 4 + 0.4 * 25));  // a second reading of the same state
  c.levels = {{0, 0, 1, 2}};
  CHECK(evidence(c) == near(0.4 * 25));
}

TEST_CASE("one sensor on two findings", "[belief][enumerate]") {
  Case c = two_findings();
  c.soft = {{{0, 1}, 0, {0, 1, 0, 0}, 0}};
  CHECK(evidence(c) == near(0.5 * 0.8 * 0.5));  // only the first present
  c.soft = {{{0, 1}, 0, {0, 0, 1, 0}, 0}};
  CHECK(evidence(c) == near(0.5 * 0.2 * 0.5));  // only the second
  c.soft = {{{1, 0}, 0, {0, 1, 0, 0}, 0}};
  CHECK(evidence(c) == near(0.5 * 0.2 * 0.5));
  c.soft = {{{0, 1}, 0, {0, 1, 1, 0}, 0}};
  CHECK(evidence(c) == near(0.25));
  c.levels = {{0, 0, 1, 1}};
  CHECK(evidence(c) == near(0.2));
}

TEST_CASE("a sensor on two findings beside a sensor on one of them", "[belief][enumerate]") {
  Case c = two_findings();
  c.soft = {{{0, 1}, 0, {1, 2, 3, 4}, 0}, {{1}, 0, {2, 5}, 1}};
  // States none 0.55, first 0.2, second 0.05, both 0.2: their likelihoods multiply.
  CHECK(evidence(c) == near(0.55 * 1 * 2 + 0.2 * 2 * 2 + 0.05 * 3 * 5 + 0.2 * 4 * 5));
}

TEST_CASE("sensors in two epochs see one course of events", "[belief][enumerate]") {
  Case c = two_findings();
  c.removals = {{0, 1, 0.75, 0}};
  c.now = 1;
  c.soft = {{{0}, 0, {1, 3}, 0}, {{0}, 1, {1, 3}, 1}};
  // Never present 0.6: 1; present, then gone 0.4 * 0.75: 3; present throughout 0.4 * 0.25: 9.
  CHECK(evidence(c) == near(0.6 + 0.3 * 3 + 0.1 * 9));
}

TEST_CASE("something seen of a cause alone", "[belief][enumerate]") {
  Case c = two_findings();
  c.seen = {{0, 0, 0.9, 0.1, 0}};
  CHECK(start(enumerate(c), 0) == near(0.9));
  c.seen.push_back({0, 0, 0, 1, 1});
  CHECK(start(enumerate(c), 0) == 0);
  CHECK(evidence(c) == near(0.05));
}

TEST_CASE("cured: what produced the finding must go", "[belief][enumerate]") {
  Case c = graded();
  c.network.own().findings = {{{0.1}, {{0, {0.8}}}}};
  c.levels = {{0, 0, 1, 0}};
  // P(e) = 1 - 0.9 * 0.6 = 0.46, of which the cause alone 0.4 * 0.9 = 0.36.
  CHECK(cured_after(c, {{0, 0, 0.75, 0}}) == near(0.75 * 0.36 / 0.46));
  CHECK(cured_after(c, {{0, 0, 1, 0}}) == near(0.36 / 0.46));
  CHECK(cured_after(c, {}) == 0);
  c.levels[0].level = 0;
  CHECK(cured_after(c, {}) == near(1));
}

TEST_CASE("impossible evidence leaves the priors and no account", "[belief][enumerate]") {
  Case c = two_findings();
  c.levels = {{0, 0, 1, 0}, {0, 0, 0, 1}};
  const Enumeration answer = enumerate(c);
  CHECK(std::isinf(answer.log_evidence));
  CHECK(start(answer, 0) == near(0.5));
  CHECK(answer.explanations.empty());
  CHECK(cured_after(c, {}) == 0);
}

TEST_CASE("explanations sum over the causes that nothing present touches", "[belief][enumerate]") {
  Case c = two_findings();
  c.network.own().causes.push_back({0.25, 0});
  c.network.own().findings[0].leak = {0.1};
  c.network.own().findings[1].links = {{1, {0.5}}};
  c.levels = {{0, 0, 1, 0}, {1, 0, 0, 1}};
  const auto accounts = enumerate(c).explanations;
  REQUIRE(accounts.size() == 2);
  // P(first present) = 0.46; with the cause 0.5 * (1 - 0.9 * 0.2) = 0.41.
  CHECK(accounts[0].first == std::vector<Life>{{0, kForever}, {0, 0}});
  CHECK(static_cast<double>(accounts[0].second) == near(0.41 / 0.46));
  CHECK(accounts[1].first == std::vector<Life>{{0, 0}, {0, 0}});
  c.soft = {{{1}, 0, {1, 1}, 2}};
  CHECK(enumerate(c).explanations.size() == 4);
}

TEST_CASE("enumeration agrees with the alternating sum", "[belief][enumerate][property]") {
  std::size_t compared = 0;
  for (std::uint64_t seed = 0; seed < test::cases(1500); ++seed) {
    CAPTURE(seed);
    Case given = test::random_case(seed);
    if (given.levels.size() + 2 * given.soft.size() > 10) continue;
    const std::size_t cause = seed % given.network->causes.size();
    const Enumeration answer = enumerate(given);
    const long double p_e = std::exp(answer.log_evidence);
    const test::AlternatingSum sum = test::inclusion_exclusion(given);
    CHECK(std::abs(p_e - sum.evidence) <= 1e-15L * sum.magnitude);
    if (p_e <= 0) continue;
    given.seen.push_back({cause, given.now, 1, 0, 0});
    const test::AlternatingSum joint = test::inclusion_exclusion(given);
    CHECK(std::abs(p_e * answer.present_now[cause] - joint.evidence) <= 1e-15L * sum.magnitude);
    ++compared;
  }
  CHECK(compared > test::cases(500));
}

}  // namespace tickover::belief_enumerate_test
