/// @file
/// Word for word what network.hpp says, with no thought for speed: every combination of lives, and
/// for each the probability of what was observed (observed_group.hpp).
#include "engine/belief/enumerate.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>
#include <utility>

#include "engine/belief/observed_group.hpp"

namespace tickover::belief {
namespace {

using Real = long double;

/// P(what was seen of this cause alone | its life).
Real seen_chance(const Case& given, std::size_t cause, const Life& life) {
  Real chance = 1;
  for (const CauseObservation& seen : given.seen) {
    if (seen.cause == cause) chance *= life.in(seen.epoch) ? seen.present : seen.absent;
  }
  return chance;
}

/// One life for every cause, and their probability times that of all observations.
using Visit = std::function<void(const std::vector<Life>&, Real)>;

/// Walks over all combinations of lives that the observations leave possible.
class Walk {
 public:
  Walk(const Case& given, Visit visit)
      : given_(given), visit_(std::move(visit)), lived_(given.network->causes.size()) {
    for (std::size_t cause = 0; cause < lived_.size(); ++cause) {
      ways_.push_back(lives(given, cause));
    }
    choice_.resize(lived_.size());
    for (const ObservedGroup& group : observed_groups(given)) add_factor(group);
    from(0, 1);
  }

 private:
  /// P(observations of a group | lives), each value computed once (negative: not yet).
  struct Factor {
    ObservedGroup group;
    std::vector<std::size_t> scope;
    std::vector<Real> table;
  };

  void add_factor(const ObservedGroup& group) {
    std::size_t size = 1;
    const std::vector<std::size_t> scope = group.scope();
    for (const std::size_t cause : scope) size *= ways_[cause].size();
    factors_.push_back({group, scope, std::vector<Real>(size, -1)});
  }

  Real value(Factor& factor) {
    std::size_t index = 0;
    for (const std::size_t cause : factor.scope) {
      index = index * ways_[cause].size() + choice_[cause];
    }
    if (factor.table[index] < 0) factor.table[index] = factor.group.chance(lived_);
    return factor.table[index];
  }

  /// Product of the factors that can be told as soon as the causes before `end` have their lives.
  Real told_at(std::size_t end) {
    Real product = 1;
    for (Factor& factor : factors_) {
      const std::size_t known = factor.scope.empty() ? 0 : factor.scope.back() + 1;
      if (known == end) product *= value(factor);
    }
    return product;
  }

  /// The causes before `cause` have their lives; gives the others each of theirs.
  void from(std::size_t cause, Real weight) {
    weight *= told_at(cause);
    if (weight <= 0) return;
    if (cause == lived_.size()) return visit_(lived_, weight);
    for (std::size_t i = 0; i < ways_[cause].size(); ++i) {
      const LifeChance& way = ways_[cause][i];
      choice_[cause] = i;
      lived_[cause] = way.life;
      from(cause + 1, weight * way.probability * seen_chance(given_, cause, way.life));
    }
  }

  const Case& given_;
  Visit visit_;
  std::vector<std::vector<LifeChance>> ways_;
  std::vector<std::size_t> choice_;
  std::vector<Life> lived_;
  std::vector<Factor> factors_;
};

Real evidence(const Case& given) {
  Real sum = 0;
  const Walk walk(given, [&](const std::vector<Life>&, Real weight) { sum += weight; });
  return sum;
}

/// Causes that hide something of the finding, and those that they hide.
void touch_inhibited(const Finding& finding, std::vector<bool>& touched) {
  for (const std::size_t cause : finding.leak_inhibitors) touched[cause] = true;
  for (const Link& link : finding.links) {
    if (!link.inhibitors.empty()) touched[link.cause] = true;
    for (const std::size_t cause : link.inhibitors) touched[cause] = true;
  }
}

/// True for the causes linked to a finding that was seen present or sensed, and for those that hide
/// or are hidden where one was looked at.
std::vector<bool> touched(const Case& given) {
  std::set<std::size_t> findings;
  for (const LevelObservation& seen : given.levels) {
    if (seen.level > 0) findings.insert(seen.finding);
  }
  for (const SoftObservation& soft : given.soft) {
    findings.insert(soft.findings.begin(), soft.findings.end());
  }
  std::vector<bool> result(given.network->causes.size());
  for (const LevelObservation& seen : given.levels) {
    touch_inhibited(given.network->findings[seen.finding], result);
  }
  for (const std::size_t finding : findings) {
    for (const Link& link : given.network->findings[finding].links) result[link.cause] = true;
  }
  return result;
}

struct LivesOrder {
  bool operator()(const std::vector<Life>& a, const std::vector<Life>& b) const {
    return std::lexicographical_compare(
        a.begin(), a.end(), b.begin(), b.end(), [](const Life& x, const Life& y) {
          return std::pair(x.begin, x.end) < std::pair(y.begin, y.end);
        });
  }
};

/// Adds up weights; divides only at the end.
struct Tally {
  explicit Tally(const Case& c)
      : given(c), touches(touched(c)), starts(touches.size()), nows(touches.size()) {}

  void add(const std::vector<Life>& lived, Real weight) {
    total += weight;
    std::vector<Life> account(lived.size());
    for (std::size_t cause = 0; cause < lived.size(); ++cause) {
      if (lived[cause].in(0)) starts[cause] += weight;
      if (lived[cause].in(given.now)) nows[cause] += weight;
      if (touches[cause]) account[cause] = lived[cause];
    }
    accounts[account] += weight;
  }

  const Case& given;
  std::vector<bool> touches;
  std::vector<Real> starts, nows;
  Real total = 0;
  std::map<std::vector<Life>, Real, LivesOrder> accounts;
};

/// The same machine with nothing observed: what is left to say when the evidence is impossible.
Case unobserved(const Case& given) {
  Case bare = given;
  bare.levels.clear();
  bare.soft.clear();
  bare.seen.clear();
  return bare;
}

}  // namespace

Enumeration enumerate(const Case& given) {
  Tally tally(given);
  const Walk walk(given,
                  [&](const std::vector<Life>& lived, Real weight) { tally.add(lived, weight); });
  if (tally.total <= 0) {
    Enumeration prior = enumerate(unobserved(given));
    return {std::log(tally.total), prior.present_at_start, prior.present_now, {}};
  }
  Enumeration result{std::log(tally.total), tally.starts, tally.nows, {}};
  for (Real& p : result.present_at_start) p /= tally.total;
  for (Real& p : result.present_now) p /= tally.total;
  for (const auto& [account, weight] : tally.accounts) {
    result.explanations.emplace_back(account, weight / tally.total);
  }
  std::stable_sort(result.explanations.begin(), result.explanations.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  return result;
}

long double enumerate_cured(const Case& given, const std::vector<std::size_t>& findings,
                            const std::vector<Removal>& removals) {
  const Real before = evidence(given);
  if (before <= 0) return 0;
  Case after = given;
  after.now = given.now + 1;
  for (Removal removal : removals) {
    removal.epoch = after.now;
    after.removals.push_back(removal);
  }
  for (const std::size_t finding : findings) {
    after.levels.push_back({finding, after.now, 0, 0});
    after.fades.push_back({finding, after.now});
  }
  return evidence(after) / before;
}

}  // namespace tickover::belief
