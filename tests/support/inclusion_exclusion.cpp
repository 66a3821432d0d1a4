#include "tests/support/inclusion_exclusion.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

namespace tickover::test {
namespace {

using namespace belief;
using Real = long double;

/// A finding in an epoch -> a level it shows, or must not exceed.
using Levels = std::map<std::pair<std::size_t, Epoch>, std::size_t>;

/// P(what this produces stays within the bounds of the epochs it lives in).
Real quiet(const std::vector<double>& strength, std::size_t finding, const Life& life,
           const Levels& bounds) {
  std::size_t bound = strength.size();
  for (const auto& [place, level] : bounds) {
    if (place.first == finding && life.in(place.second)) bound = std::min(bound, level);
  }
  Real loud = 0;
  for (std::size_t i = bound; i < strength.size(); ++i) loud += strength[i];
  return 1 - loud;
}

/// Over the epochs at which a leak may fade.
Real quiet_leak(const Case& given, std::size_t finding, Epoch begin, const Levels& bounds) {
  const std::vector<double>& leak = given.network->findings[finding].leak;
  Real sum = 0, left = 1;
  for (Epoch end = begin + 1; end <= given.now; ++end) {
    const bool fading = std::any_of(given.fades.begin(), given.fades.end(), [&](const Window& one) {
      return one.finding == finding && one.epoch == end;
    });
    if (!fading) continue;
    sum += left * given.fade * quiet(leak, finding, {begin, end}, bounds);
    left *= 1 - given.fade;
  }
  return sum + left * quiet(leak, finding, {begin, kForever}, bounds);
}

Real quiet_leaks(const Case& given, const Levels& bounds) {
  Real product = 1;
  for (std::size_t finding = 0; finding < given.network->findings.size(); ++finding) {
    product *= quiet_leak(given, finding, 0, bounds);
  }
  for (const Window& window : given.windows) {
    product *= quiet_leak(given, window.finding, window.epoch, bounds);
  }
  return product;
}

/// P(what was seen of the cause, all its links within bounds), over its lives.
Real quiet_cause(const Case& given, std::size_t cause, const Levels& bounds) {
  Real sum = 0;
  for (const LifeChance& way : lives(given, cause)) {
    Real product = way.probability;
    for (const CauseObservation& seen : given.seen) {
      if (seen.cause == cause) product *= way.life.in(seen.epoch) ? seen.present : seen.absent;
    }
    for (std::size_t f = 0; f < given.network->findings.size(); ++f) {
      for (const Link& link : given.network->findings[f].links) {
        if (link.cause == cause) product *= quiet(link.strength, f, way.life, bounds);
      }
    }
    sum += product;
  }
  return sum;
}

/// P(every level at or below its bound): one product, because causes and leaks are independent.
Real at_most(const Case& given, const Levels& bounds) {
  Real product = quiet_leaks(given, bounds);
  for (std::size_t cause = 0; cause < given.network->causes.size(); ++cause) {
    product *= quiet_cause(given, cause, bounds);
  }
  return product;
}

/// Adds weight * P(exactly these levels): exactly x = at most x, but not at most x - 1.
void add_exactly(const Case& given, const Levels& levels, Levels bounds, Real weight,
                 AlternatingSum& sum) {
  if (bounds.size() == levels.size()) {
    const Real term = weight * at_most(given, bounds);
    sum.evidence += term;
    sum.magnitude += term < 0 ? -term : term;
    return;
  }
  const auto next = std::find_if(levels.begin(), levels.end(),
                                 [&](const auto& level) { return bounds.count(level.first) == 0; });
  bounds[next->first] = next->second;
  add_exactly(given, levels, bounds, weight, sum);
  if (next->second == 0) return;
  bounds[next->first] = next->second - 1;
  add_exactly(given, levels, bounds, -weight, sum);
}

/// The levels observed; nothing when two observations contradict each other outright.
std::optional<Levels> observed(const Case& given) {
  Levels levels;
  for (const LevelObservation& seen : given.levels) {
    const auto [place, fresh] = levels.emplace(std::pair(seen.finding, seen.epoch), seen.level);
    if (!fresh && place->second != seen.level) return {};
  }
  return levels;
}

Real soft_weight(const Case& given, const Levels& levels) {
  Real product = 1;
  for (const SoftObservation& soft : given.soft) {
    std::size_t state = 0;
    for (std::size_t bit = 0; bit < soft.findings.size(); ++bit) {
      state += levels.at({soft.findings[bit], soft.epoch}) << bit;
    }
    product *= soft.likelihood[state];
  }
  return product;
}

/// A finding that is sensed and whose state `levels` does not yet say.
std::optional<std::pair<std::size_t, Epoch>> unsaid(const Case& given, const Levels& levels) {
  for (const SoftObservation& soft : given.soft) {
    for (const std::size_t finding : soft.findings) {
      if (levels.count({finding, soft.epoch}) == 0) return std::pair(finding, soft.epoch);
    }
  }
  return {};
}

void add_states(const Case& given, Levels levels, AlternatingSum& sum) {
  const auto place = unsaid(given, levels);
  if (!place) return add_exactly(given, levels, {}, soft_weight(given, levels), sum);
  for (const std::size_t level : {std::size_t{0}, std::size_t{1}}) {
    levels[*place] = level;
    add_states(given, levels, sum);
  }
}

}  // namespace

AlternatingSum inclusion_exclusion(const Case& given) {
  AlternatingSum sum;
  if (const auto levels = observed(given)) add_states(given, *levels, sum);
  return sum;
}

}  // namespace tickover::test
