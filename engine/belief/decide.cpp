#include "engine/belief/decide.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "engine/belief/infer.hpp"

namespace tickover::belief {
namespace {

using Sensed = std::pair<std::size_t, Epoch>;  ///< a finding and the epoch it was sensed in

/// P(finding present in that epoch | all but the sensors), causes taken as independent.
class Expected {
 public:
  explicit Expected(const Case& given) : given_(given) {
    Case without = given;
    without.soft.clear();
    belief_ = Solver().infer(without);
  }

  double present(const Sensed& sensed) const {
    const Finding& finding = given_.network.findings[sensed.first];
    double absent = 1 - std::accumulate(finding.leak.begin(), finding.leak.end(), 0.0);
    for (const Link& link : finding.links) {
      absent *= 1 - present(link.cause, sensed.second) *
                        std::accumulate(link.strength.begin(), link.strength.end(), 0.0);
    }
    return std::clamp(1 - absent, 0.0, 1.0);
  }

 private:
  /// Of epochs between, the more probable of both ends.
  double present(std::size_t cause, Epoch epoch) const {
    const double start = belief_.present_at_start[cause], now = belief_.present_now[cause];
    if (epoch == given_.now) return now;
    return epoch == 0 ? start : std::max(start, now);
  }

  const Case& given_;
  Belief belief_;
};

/// Product of the tables of sensors that hang together, over all their findings.
struct Joint {
  std::vector<Sensed> sensed;
  std::vector<double> table = {1};

  void multiply(const SoftObservation& soft) {
    std::vector<std::size_t> at;
    for (const std::size_t finding : soft.findings) at.push_back(place_of({finding, soft.epoch}));
    for (std::size_t set = 0; set < table.size(); ++set) {
      std::size_t index = 0;
      for (std::size_t i = 0; i < at.size(); ++i) index |= (set >> at[i] & 1) << i;
      table[set] *= soft.likelihood[index];
    }
  }

  /// P(present) of each, the findings being independent before the sensors.
  std::vector<double> present(const Expected& expected) const {
    std::vector<double> sums(sensed.size(), 0);
    double total = 0;
    for (std::size_t set = 0; set < table.size(); ++set) {
      double weight = table[set];
      for (std::size_t i = 0; i < sensed.size(); ++i) {
        const double p = expected.present(sensed[i]);
        weight *= (set >> i & 1) != 0 ? p : 1 - p;
      }
      total += weight;
      for (std::size_t i = 0; i < sensed.size(); ++i) {
        if ((set >> i & 1) != 0) sums[i] += weight;
      }
    }
    for (double& sum : sums) sum = total > 0 ? sum / total : 1;
    return sums;
  }

 private:
  std::size_t place_of(const Sensed& one) {
    const auto found = std::find(sensed.begin(), sensed.end(), one);
    if (found != sensed.end()) return static_cast<std::size_t>(found - sensed.begin());
    sensed.push_back(one);
    const std::vector<double> known = table;
    table.insert(table.end(), known.begin(), known.end());
    return sensed.size() - 1;
  }
};

/// The sensors in groups that share a finding in an epoch.
std::vector<std::vector<const SoftObservation*>> groups_of(const Case& given) {
  std::vector<std::vector<const SoftObservation*>> groups;
  const auto share = [](const SoftObservation& a, const SoftObservation& b) {
    return a.epoch == b.epoch && std::any_of(a.findings.begin(), a.findings.end(), [&](auto f) {
             return std::count(b.findings.begin(), b.findings.end(), f) > 0;
           });
  };
  for (const SoftObservation& soft : given.soft) {
    std::vector<const SoftObservation*> together = {&soft};
    std::erase_if(groups, [&](const auto& group) {
      const bool ties = std::any_of(group.begin(), group.end(),
                                    [&](const auto* other) { return share(*other, soft); });
      if (ties) together.insert(together.begin(), group.begin(), group.end());
      return ties;
    });
    groups.push_back(std::move(together));
  }
  return groups;
}

/// What the joint table says when the findings in `absent` (bits) are absent.
SoftObservation rest_of(const Joint& joint, std::size_t absent, std::size_t source) {
  SoftObservation rest;
  rest.epoch = joint.sensed.front().second;
  rest.source = source;
  for (std::size_t i = 0; i < joint.sensed.size(); ++i) {
    if ((absent >> i & 1) == 0) rest.findings.push_back(joint.sensed[i].first);
  }
  for (std::size_t set = 0; set < joint.table.size(); ++set) {
    if ((set & absent) == 0) rest.likelihood.push_back(joint.table[set]);
  }
  return rest;
}

}  // namespace

Case decided(Case given, double doubt) {
  if (given.soft.empty()) return given;
  std::vector<LevelObservation> absent_now;
  std::vector<SoftObservation> left;
  const Expected expected(given);
  for (const auto& group : groups_of(given)) {
    Joint joint;
    for (const SoftObservation* soft : group) joint.multiply(*soft);
    const std::vector<double> present = joint.present(expected);
    std::size_t absent = 0;
    for (std::size_t i = 0; i < present.size(); ++i) {
      if (present[i] > doubt) continue;
      absent |= std::size_t{1} << i;
      absent_now.push_back(
          {joint.sensed[i].first, joint.sensed[i].second, 0, group.back()->source});
    }
    const SoftObservation rest = rest_of(joint, absent, group.back()->source);
    if (!rest.findings.empty()) left.push_back(rest);
  }
  given.levels.insert(given.levels.end(), absent_now.begin(), absent_now.end());
  given.soft = std::move(left);
  return given;
}

}  // namespace tickover::belief
