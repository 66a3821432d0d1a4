/// @file
/// Laws the engine's answers obey whatever the case: no reference needed. A failure prints the
/// seed.
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "engine/belief/infer.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/near.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::belief_infer_laws_test {
namespace {

using namespace belief;
using test::Near;
using test::NearLog;

constexpr std::uint64_t kCases = test::cases(1000);

void check_same_marginals(const Belief& got, const Belief& expected) {
  CHECK(got.contradiction == expected.contradiction);
  REQUIRE(got.present_now.size() == expected.present_now.size());
  for (std::size_t cause = 0; cause < got.present_now.size(); ++cause) {
    CAPTURE(cause);
    CHECK(got.present_at_start[cause] == Near{expected.present_at_start[cause]});
    CHECK(got.present_now[cause] == Near{expected.present_now[cause]});
  }
}

/// The same answers in all; log evidence higher by `shift`.
void check_same(const Belief& got, const Belief& expected, double shift = 0) {
  check_same_marginals(got, expected);
  CHECK(got.log_evidence == NearLog{expected.log_evidence + shift});
}

/// Applies `law(random, case, belief)` to random cases with possible evidence.
template <class Law>
void for_cases(Law law) {
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    test::Random random(seed + 7);
    const Case given = test::random_case(seed);
    const Belief belief = infer(given);
    if (!belief.contradiction && belief.exact) law(random, given, belief);
  }
}

std::vector<std::size_t> permutation(test::Random& random, std::size_t count) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  random.shuffle(order);
  return order;
}

/// The same case with cause i called order[i].
Case with_causes_renamed(const Case& given, const std::vector<std::size_t>& order) {
  Case c = given;
  for (std::size_t i = 0; i < order.size(); ++i)
    c.network.own().causes[order[i]] = given.network->causes[i];
  for (Finding& finding : c.network.own().findings) {
    for (Link& link : finding.links) link.cause = order[link.cause];
  }
  for (CauseObservation& seen : c.seen) seen.cause = order[seen.cause];
  for (Removal& removal : c.removals) removal.cause = order[removal.cause];
  return c;
}

/// The same case with finding i called order[i].
Case with_findings_renamed(const Case& given, const std::vector<std::size_t>& order) {
  Case c = given;
  for (std::size_t i = 0; i < order.size(); ++i) {
    c.network.own().findings[order[i]] = given.network->findings[i];
  }
  for (LevelObservation& seen : c.levels) seen.finding = order[seen.finding];
  for (Window& window : c.windows) window.finding = order[window.finding];
  for (Window& window : c.fades) window.finding = order[window.finding];
  for (SoftObservation& soft : c.soft) {
    for (std::size_t& finding : soft.findings) finding = order[finding];
  }
  return c;
}

/// What a perfect sensor on a binary finding would report.
SoftObservation perfect(const LevelObservation& seen) {
  const std::vector<double> likelihood = {seen.level == 0 ? 1.0 : 0.0, seen.level == 1 ? 1.0 : 0.0};
  return {{seen.finding}, seen.epoch, likelihood, seen.source};
}

bool watched(const Case& given, std::size_t finding, Epoch epoch) {
  for (const LevelObservation& seen : given.levels) {
    if (seen.finding == finding && seen.epoch == epoch) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("the order of observations does not matter", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief& belief) {
    Case c = given;
    random.shuffle(c.levels);
    random.shuffle(c.soft);
    random.shuffle(c.seen);
    random.shuffle(c.removals);
    random.shuffle(c.windows);
    random.shuffle(c.fades);
    for (Finding& finding : c.network.own().findings) random.shuffle(finding.links);
    check_same(infer(c), belief);
  });
}

TEST_CASE("renaming causes permutes the answers", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief& belief) {
    const auto order = permutation(random, given.network->causes.size());
    const Belief renamed = infer(with_causes_renamed(given, order));
    CHECK(renamed.log_evidence == NearLog{belief.log_evidence});
    for (std::size_t cause = 0; cause < order.size(); ++cause) {
      CHECK(renamed.present_at_start[order[cause]] == Near{belief.present_at_start[cause]});
      CHECK(renamed.present_now[order[cause]] == Near{belief.present_now[cause]});
    }
  });
}

TEST_CASE("renaming findings changes nothing", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief& belief) {
    const auto order = permutation(random, given.network->findings.size());
    check_same(infer(with_findings_renamed(given, order)), belief);
  });
}

TEST_CASE("an observation that tells nothing changes nothing", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief& belief) {
    Case c = given;
    const Epoch epoch = random.below(given.now + 1);
    c.seen.push_back({random.below(c.network->causes.size()), epoch, 0.25, 0.25, 0});
    const std::size_t unlinked = c.network->findings.size();
    c.network.own().findings.push_back({{0.0}, {}});
    c.network.own().findings.push_back({{0.125}, {}});
    c.levels.push_back({unlinked, epoch, 0, 0});
    c.levels.push_back({unlinked + 1, 0, 1, 0});  // later it might have faded
    for (std::size_t finding = 0; finding < unlinked; ++finding) {
      if (c.network->findings[finding].leak.size() == 1)
        c.soft.push_back({{finding}, epoch, {3, 3}, 0});
    }
    const double sensors = static_cast<double>(c.soft.size() - given.soft.size());
    CHECK(infer(c).width <= belief.width + 1);  // the present finding without links has a bit
    check_same(infer(c), belief, std::log(0.25 * 0.125) + sensors * std::log(3.0));
  });
}

TEST_CASE("seen twice in one epoch is seen once", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief& belief) {
    Case c = given;
    if (c.levels.empty()) return;
    c.levels.push_back(c.levels[random.below(c.levels.size())]);
    check_same(infer(c), belief);
  });
}

TEST_CASE("a likelihood of 1 and 0 is hard evidence", "[belief][property]") {
  for_cases([](test::Random&, const Case& given, const Belief& belief) {
    Case c = given;
    c.levels.clear();
    for (const LevelObservation& seen : given.levels) {
      if (given.network->findings[seen.finding].leak.size() == 1) {
        c.soft.push_back(perfect(seen));
      } else {
        c.levels.push_back(seen);
      }
    }
    const Belief soft = infer(c);
    if (soft.exact) check_same(soft, belief);
  });
}

TEST_CASE("a cause seen for certain is a cause with prior 1", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief& belief) {
    const std::size_t cause = random.below(given.network->causes.size());
    const double prior = given.network->causes[cause].prior;
    Case seen = given;
    seen.seen.push_back({cause, 0, 1, 0, 0});
    Case certain = given;
    certain.network.own().causes[cause].prior = 1;
    if (infer(seen).contradiction) {
      CHECK(belief.present_at_start[cause] == Near{0});
    } else {
      check_same(infer(seen), infer(certain), std::log(prior));
    }
  });
}

TEST_CASE("a sensor on two findings whose table is a product is two sensors",
          "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief&) {
    const std::size_t first = given.network->findings.size();
    Case joint = given;
    for (int i = 0; i < 2; ++i) {
      joint.network.own().findings.push_back(
          {{0.01}, {{random.below(given.network->causes.size()), {random.unit()}}}});
    }
    Case apart = joint;
    joint.soft.push_back({{first, first + 1}, given.now, {2 * 5, 3 * 5, 2 * 7, 3 * 7}, 0});
    apart.soft.push_back({{first}, given.now, {2, 3}, 0});
    apart.soft.push_back({{first + 1}, given.now, {5, 7}, 0});
    check_same(infer(joint), infer(apart));
  });
}

TEST_CASE("the scale of likelihoods shows only in the evidence", "[belief][property]") {
  for_cases([](test::Random&, const Case& given, const Belief& belief) {
    Case c = given;
    for (SoftObservation& soft : c.soft) {
      for (double& likelihood : soft.likelihood) likelihood *= 2;
    }
    for (CauseObservation& seen : c.seen) {
      seen.present *= 2;
      seen.absent *= 2;
    }
    const double doubled = static_cast<double>(c.soft.size() + c.seen.size());
    check_same(infer(c), belief, doubled * std::log(2.0));
  });
}

TEST_CASE("the levels a finding may show share out the evidence", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief& belief) {
    const std::size_t finding = random.below(given.network->findings.size());
    const Epoch epoch = random.below(given.now + 1);
    if (watched(given, finding, epoch)) return;
    double sum = 0;
    for (std::size_t level = 0; level <= given.network->findings[finding].leak.size(); ++level) {
      Case c = given;
      c.levels.push_back({finding, epoch, level, 0});
      sum += std::exp(log_evidence(c) - belief.log_evidence);
    }
    CHECK(sum == Near{1});
  });
}

TEST_CASE("removing more never cures less", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief&) {
    const auto [findings, removals] = test::random_repair(random, given);
    Prospects asked(given, findings, log_evidence(given));
    const CureProspects prospects = asked.with_each(removals);
    CHECK(prospects.base == Near{cured(given, findings, removals)});
    for (const double with_cause : prospects.with_cause) {
      CHECK(with_cause >= prospects.base - 1e-12);
      CHECK(with_cause <= asked.all_gone() + 1e-12);
    }
  });
}

TEST_CASE("a solver and prospects used again answer as new ones do", "[belief][property]") {
  Solver solver;
  Prospects again;
  for_cases([&](test::Random& random, const Case& given, const Belief& belief) {
    check_same(solver.infer(given), belief);
    const auto [findings, removals] = test::random_repair(random, given);
    again.pose(given, findings, solver.log_evidence(given));
    CHECK(again.cured(removals) == Near{cured(given, findings, removals)});
  });
}

TEST_CASE("cures asked one after another answer as each asked alone", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief& belief) {
    const auto [findings, removals] = test::random_repair(random, given);
    Prospects again(given, findings, belief.log_evidence);
    std::vector<Removal> so_far;
    for (int question = 0; question < 6; ++question) {
      so_far.push_back({random.below(given.network->causes.size()), 0, random.unit(), 0});
      if (question == 3) so_far = removals;
      if (question == 4) again.culprits();  // another pass between them
      Prospects alone(given, findings, belief.log_evidence);
      CHECK(again.cured(so_far) == alone.cured(so_far));
    }
  });
}

TEST_CASE("with a chance of fading a cure is never impossible", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief&) {
    Case fading = given;
    fading.fade = 0.01;
    const auto findings = test::random_repair(random, fading).findings;
    if (std::isfinite(log_evidence(fading))) CHECK(cured(fading, findings, {}) > 0);
  });
}

TEST_CASE("more explanations only add to the list", "[belief][property]") {
  for_cases([](test::Random& random, const Case& given, const Belief&) {
    const std::vector<Explanation> many = explanations(given, 12);
    const std::vector<Explanation> few = explanations(given, 1 + random.below(11));
    REQUIRE(few.size() <= many.size());
    for (std::size_t i = 0; i < few.size(); ++i) {
      CHECK(few[i].causes == many[i].causes);
      CHECK(few[i].lives == many[i].lives);
      CHECK(few[i].probability == Near{many[i].probability});
    }
  });
}

TEST_CASE("what is most improbable has its explanations too", "[belief]") {
  Case given;  // 120 findings with a hardly probable leak each and one cause for the first two
  Network& network = given.network.own();
  network.causes.push_back({1e-3, 0});
  network.findings.resize(120);
  for (std::size_t f = 0; f < network.findings.size(); ++f) {
    network.findings[f].leak = {1e-4};
    if (f < 2) network.findings[f].links.push_back({0, {0.5}});
    given.levels.push_back({f, 0, 1, f});
  }
  REQUIRE(log_evidence(given) < -1000);  // below what a double holds
  const std::vector<Explanation> all = explanations(given, 2);
  REQUIRE(all.size() == 2);
  CHECK(all[0].causes == std::vector<std::size_t>{0});
  CHECK(all[0].probability == Near{infer(given).present_now[0]});
  CHECK(all[1].causes.empty());
}

TEST_CASE("a case without causes or findings has one explanation: nothing", "[belief]") {
  const Belief belief = infer(Case{});
  CHECK_FALSE(belief.contradiction);
  CHECK(belief.log_evidence == 0);
  const std::vector<Explanation> all = explanations(Case{}, 3);
  REQUIRE(all.size() == 1);
  CHECK(all[0].causes.empty());
  CHECK(all[0].probability == 1);
}

}  // namespace tickover::belief_infer_laws_test
