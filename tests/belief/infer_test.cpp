/// @file
/// The engine's answers against exhaustive enumeration, on random cases. A failure prints the seed.
#include "engine/belief/infer.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "engine/belief/enumerate.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/near.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::belief_infer_test {
namespace {

using namespace belief;
using test::Near;
using test::NearLog;

constexpr std::uint64_t kCases = test::cases(3000);
constexpr std::size_t kAll = 100000;  ///< more explanations than any random case has

void check_belief(const Belief& belief, const Enumeration& expected) {
  CHECK(belief.contradiction == std::isinf(expected.log_evidence));
  CHECK(belief.log_evidence == NearLog{expected.log_evidence});
  REQUIRE(belief.present_at_start.size() == expected.present_at_start.size());
  REQUIRE(belief.present_now.size() == expected.present_now.size());
  for (std::size_t cause = 0; cause < expected.present_now.size(); ++cause) {
    CAPTURE(cause);
    CHECK(belief.present_at_start[cause] == Near{expected.present_at_start[cause]});
    CHECK(belief.present_now[cause] == Near{expected.present_now[cause]});
  }
}

/// The lives of all causes, those not named never present.
std::vector<Life> account_of(const Explanation& explanation, std::size_t causes) {
  std::vector<Life> account(causes);
  for (std::size_t i = 0; i < explanation.causes.size(); ++i) {
    account[explanation.causes[i]] = explanation.lives[i];
  }
  return account;
}

/// The causes that the explanations speak of at all; the others are summed over.
std::set<std::size_t> spoken_of(const std::vector<Explanation>& all) {
  std::set<std::size_t> causes;
  for (const Explanation& explanation : all) {
    causes.insert(explanation.causes.begin(), explanation.causes.end());
  }
  return causes;
}

/// As above, of the enumerator's explanations.
std::set<std::size_t> spoken_of(const Enumeration& expected) {
  std::set<std::size_t> causes;
  for (const auto& [account, probability] : expected.explanations) {
    for (std::size_t cause = 0; cause < account.size(); ++cause) {
      if (account[cause] != Life{}) causes.insert(cause);
    }
  }
  return causes;
}

struct Account {
  std::vector<Life> lives;
  long double probability = 0;
};

/// The enumerator's explanations with all causes but `causes` summed over, most probable first.
std::vector<Account> accounts_of(const Enumeration& expected, const std::set<std::size_t>& causes) {
  std::vector<Account> accounts;
  for (const auto& [lives, probability] : expected.explanations) {
    Account account{std::vector<Life>(lives.size()), probability};
    for (const std::size_t cause : causes) account.lives[cause] = lives[cause];
    const auto same = std::find_if(accounts.begin(), accounts.end(),
                                   [&](const Account& a) { return a.lives == account.lives; });
    if (same == accounts.end()) {
      accounts.push_back(account);
    } else {
      same->probability += probability;
    }
  }
  std::stable_sort(accounts.begin(), accounts.end(), [](const Account& a, const Account& b) {
    return a.probability > b.probability;
  });
  return accounts;
}

long double chance_of(const std::vector<Life>& lives, const std::vector<Account>& accounts) {
  for (const Account& account : accounts) {
    if (account.lives == lives) return account.probability;
  }
  return 0;
}

/// Ties may come in any order here: each explanation must have its own probability, and the one at
/// each rank the probability due to that rank.
void check_explanations(const std::vector<Explanation>& got, const std::vector<Account>& expected,
                        std::size_t causes) {
  REQUIRE(got.size() <= expected.size());
  std::vector<std::vector<Life>> told;
  for (std::size_t i = 0; i < got.size(); ++i) {
    CAPTURE(i);
    const std::vector<Life> lives = account_of(got[i], causes);
    CHECK(std::is_sorted(got[i].causes.begin(), got[i].causes.end()));
    CHECK(got[i].probability == Near{chance_of(lives, expected)});
    CHECK(got[i].probability == Near{expected[i].probability});
    CHECK(std::count(told.begin(), told.end(), lives) == 0);
    told.push_back(lives);
  }
}

/// The certain removal of every cause.
std::vector<Removal> all_removed(const Case& given) {
  std::vector<Removal> removals;
  for (std::size_t cause = 0; cause < given.network->causes.size(); ++cause) {
    removals.push_back({cause, 0, 1, 0});
  }
  return removals;
}

}  // namespace

TEST_CASE("marginals and evidence agree with enumeration", "[belief][property]") {
  std::size_t contradictions = 0;
  std::size_t exact = 0;
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    const Case given = test::random_case(seed);
    const Belief belief = infer(given);
    if (!belief.exact) continue;
    const Enumeration expected = enumerate(given);
    check_belief(belief, expected);
    CHECK(log_evidence(given) == NearLog{expected.log_evidence});
    contradictions += belief.contradiction ? 1 : 0;
    ++exact;
  }
  CHECK(exact >= kCases * 99 / 100);
  CHECK(contradictions >= kCases / 100);
}

TEST_CASE("cures agree with enumeration", "[belief][property]") {
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    const Case given = test::random_case(seed);
    const auto [findings, removals] = test::random_repair(random, given);
    const long double expected = enumerate_cured(given, findings, removals);
    CHECK(cured(given, findings, removals) == Near{expected});
    CHECK(Prospects(given, findings, log_evidence(given)).cured(removals) == Near{expected});
  }
}

TEST_CASE("cure prospects agree with enumeration", "[belief][property]") {
  for (std::uint64_t seed = 0; seed < kCases; seed += 12) {
    CAPTURE(seed);
    test::Random random(seed + 1);
    const Case given = test::random_case(seed);
    const auto [findings, removals] = test::random_repair(random, given);
    const CureProspects got = Prospects(given, findings, log_evidence(given)).with_each(removals);
    CHECK(got.base == Near{enumerate_cured(given, findings, removals)});
    REQUIRE(got.with_cause.size() == given.network->causes.size());
    const std::size_t stride = 1 + got.with_cause.size() / 5;  // enumeration takes its time
    for (std::size_t cause = seed % stride; cause < got.with_cause.size(); cause += stride) {
      CAPTURE(cause);
      std::vector<Removal> more = removals;
      more.push_back({cause, 0, 1, 0});
      CHECK(got.with_cause[cause] == Near{enumerate_cured(given, findings, more)});
    }
  }
}

TEST_CASE("culprits agree with enumeration", "[belief][property]") {
  for (std::uint64_t seed = 0; seed < kCases; seed += 6) {
    CAPTURE(seed);
    test::Random random(seed + 3);
    const Case given = test::random_case(seed);
    const auto findings = test::random_repair(random, given).findings;
    const std::vector<double> got = Prospects(given, findings, log_evidence(given)).culprits();
    std::vector<Removal> all = all_removed(given);
    const long double most = enumerate_cured(given, findings, all);
    REQUIRE(got.size() == all.size());
    for (std::size_t cause = 0; cause < all.size(); ++cause) {
      CAPTURE(cause);
      all[cause].success = 0;
      const long double spared = enumerate_cured(given, findings, all);
      all[cause].success = 1;
      CHECK(std::fabs(got[cause] - (most - spared)) <= 1e-12L);
    }
  }
}

TEST_CASE("the unlisted is what is left with all causes removed", "[belief][property]") {
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    test::Random random(seed + 2);
    Case given = test::random_case(seed);
    given.fade = 0;  // what fades by the next epoch is unlisted now all the same
    const auto [findings, removals] = test::random_repair(random, given);
    const long double cure = enumerate_cured(given, findings, all_removed(given));
    // A difference from 1: no relative precision to be had when it is small.
    CHECK(std::fabs(unlisted(given, findings) - (1 - cure)) <= 1e-12L);
  }
}

TEST_CASE("explanations agree with enumeration", "[belief][property]") {
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    const Case given = test::random_case(seed);
    const std::size_t causes = given.network->causes.size();
    const std::vector<Explanation> all = explanations(given, kAll);
    const auto accounts = accounts_of(enumerate(given), spoken_of(all));
    CHECK(all.size() == accounts.size());
    check_explanations({all.begin(), all.begin() + std::min<long>(50, std::ssize(all))}, accounts,
                       causes);
    const std::size_t count = 1 + seed % 12;
    const std::vector<Explanation> best = explanations(given, count);
    CHECK(best.size() == std::min(count, accounts.size()));
    check_explanations(best, accounts, causes);
  }
}

TEST_CASE("explanations speak only of causes linked to what was seen present or sensed",
          "[belief][property]") {
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    const Case given = test::random_case(seed);
    const auto spoken = spoken_of(explanations(given, kAll)), linked = spoken_of(enumerate(given));
    CHECK(std::includes(linked.begin(), linked.end(), spoken.begin(), spoken.end()));
  }
}

TEST_CASE("explanations among some causes sum over the others", "[belief][property]") {
  for (std::uint64_t seed = 0; seed < kCases; ++seed) {
    CAPTURE(seed);
    const Case given = test::random_case(seed);
    std::vector<std::size_t> among;
    for (std::size_t c = 0; c < given.network->causes.size(); c += 2) among.push_back(c);
    const std::vector<Explanation> all = explanations(given, kAll, among);
    const auto accounts = accounts_of(enumerate(given), spoken_of(all));
    CHECK(all.size() == accounts.size());
    check_explanations({all.begin(), all.begin() + std::min<long>(50, std::ssize(all))}, accounts,
                       given.network->causes.size());
  }
}

TEST_CASE("no explanation of nothing asked for", "[belief]") {
  CHECK(explanations(test::random_case(1), 0).empty());
}

TEST_CASE("cases too wide for exact work get bounds that hold", "[belief][property]") {
  std::size_t bounded = 0;
  for (std::uint64_t seed = 0; seed < test::cases(60); ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    const Case given = test::wide_case(random, 14 + seed % 16);
    const Belief belief = infer(given);
    const Enumeration expected = enumerate(given);
    if (belief.exact) {
      check_belief(belief, expected);
      continue;
    }
    ++bounded;
    REQUIRE(belief.low.size() == expected.present_now.size());
    REQUIRE(belief.high.size() == expected.present_now.size());
    for (std::size_t cause = 0; cause < belief.low.size(); ++cause) {
      CAPTURE(cause);
      CHECK(belief.low[cause] >= 0);
      CHECK(belief.low[cause] <= expected.present_now[cause] + 1e-12L);
      CHECK(belief.high[cause] >= expected.present_now[cause] - 1e-12L);
      CHECK(belief.high[cause] <= 1);
    }
  }
  CHECK(bounded > 0);
}

}  // namespace tickover::belief_infer_test
