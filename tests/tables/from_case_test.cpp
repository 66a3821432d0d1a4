/// @file
/// A case written out as plain tables says what the case says.
#include "engine/belief/tables/from_case.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/belief/enumerate.hpp"
#include "engine/belief/infer.hpp"
#include "engine/belief/tables/infer.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/inhibited_case.hpp"
#include "tests/support/near.hpp"

namespace tickover::tables_from_case_test {
namespace {

using namespace belief;
using tables::Form;
using tables::PlainNetwork;
using tables::Role;
using test::Near;

constexpr std::uint64_t kCases = test::cases(4000);

/// Every third case can hide findings.
Case case_of(std::uint64_t seed) {
  return seed % 3 == 0 ? test::inhibited_case(seed) : test::random_case(seed);
}

/// Every row of every conditional table sums to 1, and the child is last.
void check_bayesian(const PlainNetwork& plain) {
  REQUIRE(plain.graph.factors.size() == plain.graph.cardinality.size());
  for (std::size_t v = 0; v < plain.graph.factors.size(); ++v) {
    const tables::Factor& factor = plain.graph.factors[v];
    REQUIRE(factor.scope.back() == v);
    const std::size_t states = plain.graph.cardinality[v];
    for (std::size_t row = 0; row < factor.values.size(); row += states) {
      double sum = 0;
      for (std::size_t s = 0; s < states; ++s) sum += factor.values[row + s];
      REQUIRE(std::abs(sum - 1) < 1e-12);
    }
  }
}

double chance_in(const Case& given, std::size_t cause, const std::vector<double>& marginal,
                 Epoch epoch) {
  const std::vector<LifeChance> ways = lives(given, cause);
  double sum = 0;
  for (std::size_t s = 0; s < ways.size(); ++s) {
    if (ways[s].life.in(epoch)) sum += marginal[s];
  }
  return sum;
}

/// Too wide a case is enumerated.
Belief exactly(const Case& given) {
  Belief belief = infer(given, 0);
  if (belief.exact) return belief;
  const Enumeration all = enumerate(given);
  belief.contradiction = std::isinf(all.log_evidence);
  belief.log_evidence = static_cast<double>(all.log_evidence);
  belief.present_at_start.assign(all.present_at_start.begin(), all.present_at_start.end());
  belief.present_now.assign(all.present_now.begin(), all.present_now.end());
  return belief;
}

void check_same(const Case& given, const PlainNetwork& plain) {
  const Belief expected = exactly(given);
  const tables::Posterior got = tables::infer(plain.graph, plain.observed);
  REQUIRE_FALSE(got.need.too_wide);
  REQUIRE(got.contradiction == expected.contradiction);
  if (got.contradiction) return;
  const double log_evidence = got.log_evidence + plain.log_scale;
  CHECK(std::abs(log_evidence - expected.log_evidence) <=
        1e-11 * std::max(1.0, std::abs(expected.log_evidence)));
  for (std::size_t c = 0; c < expected.present_now.size(); ++c) {
    CAPTURE(c);
    CHECK(std::abs(chance_in(given, c, got.marginals[c], 0) - expected.present_at_start[c]) <
          1e-11);
    CHECK(std::abs(chance_in(given, c, got.marginals[c], given.now) - expected.present_now[c]) <
          1e-11);
  }
}

}  // namespace

TEST_CASE("random cases as plain tables: the same evidence and marginals",
          "[belief][tables][property]") {
  for (std::uint64_t seed = 1; seed <= kCases; ++seed) {
    CAPTURE(seed);
    const Case given = case_of(seed);
    for (const Form form : {Form::decomposed, Form::full}) {
      if (form == Form::full && seed % 4 != 0) continue;
      const PlainNetwork plain = plain_network(given, form);
      check_bayesian(plain);
      check_same(given, plain);
    }
  }
}

TEST_CASE("with full tables the best assignment is the best explanation",
          "[belief][tables][property]") {
  for (std::uint64_t seed = 1; seed <= kCases / 4; ++seed) {
    CAPTURE(seed);
    const Case given = case_of(seed);
    if (!infer(given, 0).exact) continue;
    const PlainNetwork plain = plain_network(given, Form::full);
    const tables::MostProbable best = tables::most_probable(plain.graph, plain.observed);
    const std::vector<Explanation> ours = explanations(given, 1);
    REQUIRE(best.contradiction == ours.empty());
    if (ours.empty()) continue;
    // the causes that ours does not speak of are independent of these, and each at its best
    std::vector<tables::Observed> fixed = plain.observed;
    for (std::size_t i = 0; i < ours[0].causes.size(); ++i) {
      const std::vector<LifeChance> ways = lives(given, ours[0].causes[i]);
      for (std::size_t s = 0; s < ways.size(); ++s) {
        if (ways[s].life == ours[0].lives[i]) fixed.push_back({ours[0].causes[i], s});
      }
    }
    const tables::MostProbable with_ours = tables::most_probable(plain.graph, fixed);
    CHECK(std::abs(with_ours.log_probability - best.log_probability) < 1e-11);
    const double log_ours = log_evidence(given) + std::log(ours[0].probability);
    CHECK(best.log_probability + plain.log_scale <= log_ours + 1e-11);
  }
}

TEST_CASE("a sensor on three findings ties all of them together", "[belief][tables]") {
  Case given;
  given.network.own().causes = {{0.1, 0}, {0.2, 0}, {0.3, 0}};
  for (std::size_t f = 0; f < 3; ++f) {
    given.network.own().findings.push_back({{0.01}, {{f, {0.8}}, {(f + 1) % 3, {0.3}}}});
  }
  given.soft = {{{0, 1, 2}, 0, {0.1, 2, 0.3, 0.4, 3, 0.6, 0.7, 5}, 1}, {{1}, 0, {0.5, 0.25}, 2}};
  given.levels = {{2, 0, 1, 3}};
  const Enumeration expected = enumerate(given);
  CHECK(log_evidence(given) == test::NearLog{expected.log_evidence});
  for (const Form form : {Form::decomposed, Form::full})
    check_same(given, plain_network(given, form));
}

}  // namespace tickover::tables_from_case_test
