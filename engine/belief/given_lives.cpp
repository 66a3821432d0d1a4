#include "engine/belief/given_lives.hpp"

#include <algorithm>
#include <limits>

namespace tickover::belief {
namespace {

/// Epochs in which a finding may have been looked at, and sensed nodes of a group: sums have two to
/// the power of these terms.
constexpr std::size_t kMostLooks = 6, kMostSensed = 10;

constexpr std::size_t kUnbounded = std::numeric_limits<std::size_t>::max();

bool holds(const std::vector<std::size_t>& list, std::size_t item) {
  return std::find(list.begin(), list.end(), item) != list.end();
}

}  // namespace

GivenLives::GivenLives(const Case& given, const std::vector<std::size_t>& findings)
    : given_(given), lives_(given.network->causes.size()) {
  for (const std::vector<std::size_t>& together : tied_together(findings)) {
    Group group = group_of(together);
    const bool too_often =
        std::any_of(group.findings.begin(), group.findings.end(),
                    [](const Looked& looked) { return looked.nodes.size() > kMostLooks; });
    if (too_often || group.free > kMostSensed) {
      left_out_.insert(left_out_.end(), together.begin(), together.end());
    } else {
      groups_.push_back(std::move(group));
    }
  }
  std::sort(left_out_.begin(), left_out_.end());
}

std::vector<std::vector<std::size_t>> GivenLives::tied_together(
    const std::vector<std::size_t>& all) const {
  std::vector<std::vector<std::size_t>> parts;
  for (const std::size_t finding : all) parts.push_back({finding});
  for (const SoftObservation& sensor : given_.soft) {
    std::vector<std::size_t> together;
    std::erase_if(parts, [&](const std::vector<std::size_t>& part) {
      const bool its = std::any_of(part.begin(), part.end(), [&](std::size_t finding) {
        return holds(sensor.findings, finding);
      });
      if (its) together.insert(together.end(), part.begin(), part.end());
      return its;
    });
    if (!together.empty()) parts.push_back(std::move(together));
  }
  return parts;
}

GivenLives::Group GivenLives::group_of(const std::vector<std::size_t>& findings) const {
  Group group;
  for (const SoftObservation& sensor : given_.soft) {
    if (holds(findings, sensor.findings.front())) group.sensors.push_back({&sensor, {}});
  }
  for (const std::size_t finding : findings) {
    Looked looked = looked_at(finding, group);
    if (!looked.nodes.empty()) group.findings.push_back(std::move(looked));
  }
  for (Sensor& sensor : group.sensors) {
    for (const std::size_t finding : sensor.told->findings) {
      const auto looked = std::find_if(group.findings.begin(), group.findings.end(),
                                       [&](const Looked& one) { return one.finding == finding; });
      const bool aside = looked != group.findings.end();
      sensor.reads.push_back(aside ? *looked->at(sensor.told->epoch) : Node{0, 0});
    }
  }
  return group;
}

const GivenLives::Node* GivenLives::Looked::at(Epoch epoch) const {
  const auto found =
      std::find_if(nodes.begin(), nodes.end(), [&](const Node& one) { return one.epoch == epoch; });
  return found == nodes.end() ? nullptr : &*found;
}

GivenLives::Looked GivenLives::looked_at(std::size_t finding, Group& group) const {
  Looked looked{finding, {}, {lives_of_leak(given_, finding, 0)}, group.free};
  for (const Window& window : given_.windows) {
    if (window.finding != finding) continue;
    looked.leaks.push_back(lives_of_leak(given_, finding, window.epoch));
  }
  for (const LevelObservation& seen : given_.levels) {
    if (seen.finding != finding) continue;
    const Node* known = looked.at(seen.epoch);
    if (known == nullptr) looked.nodes.push_back({seen.epoch, seen.level});
    if (known != nullptr && known->level != seen.level) group.contradiction = true;
  }
  for (const Sensor& sensor : group.sensors) {
    if (!holds(sensor.told->findings, finding) || looked.at(sensor.told->epoch) != nullptr)
      continue;
    looked.nodes.push_back({sensor.told->epoch, std::nullopt, group.free++});
  }
  looked.free = group.free - looked.first_free;
  return looked;
}

double GivenLives::of(const Lived& lived) {
  for (const auto& [cause, life] : lived) lives_[cause] = life;
  double all = 1;
  for (const Group& group : groups_) all *= of(group);
  for (const auto& [cause, life] : lived) lives_[cause] = {};
  return all;
}

/// Summed over what sensors alone tell of. What a finding does depends on its own nodes alone.
double GivenLives::of(const Group& group) {
  if (group.contradiction) return 0;
  exactly_.resize(std::max(exactly_.size(), group.findings.size()));
  for (std::size_t f = 0; f < group.findings.size(); ++f) {
    exactly_[f].clear();
    for (std::size_t own = 0; own < std::size_t{1} << group.findings[f].free; ++own) {
      exactly_[f].push_back(exactly(group.findings[f], own));
    }
  }
  double sum = 0;
  for (std::size_t free = 0; free < std::size_t{1} << group.free; ++free) {
    double one = 1;
    for (const Sensor& sensor : group.sensors) one *= says(sensor, free);
    for (std::size_t f = 0; f < group.findings.size(); ++f) {
      const Looked& looked = group.findings[f];
      one *= exactly_[f][free >> looked.first_free & ((std::size_t{1} << looked.free) - 1)];
    }
    sum += one;
  }
  return sum;
}

double GivenLives::says(const Sensor& sensor, std::size_t free) {
  std::size_t index = 0;
  for (std::size_t i = 0; i < sensor.reads.size(); ++i) {
    const Node& node = sensor.reads[i];
    const bool present = node.level ? *node.level > 0 : (free >> node.free & 1) != 0;
    index |= std::size_t{present} << i;
  }
  return sensor.told->likelihood[index];
}

/// P(these levels, in every epoch looked at); `own` of the nodes that only sensors tell of.
double GivenLives::exactly(const Looked& looked, std::size_t own) {
  std::vector<std::size_t> levels;
  for (const Node& node : looked.nodes) {
    levels.push_back(node.level ? *node.level : own >> (node.free - looked.first_free) & 1);
  }
  double sum = 0;
  for (std::size_t lower = 0; lower < std::size_t{1} << levels.size(); ++lower) {
    bounds_ = levels;
    double sign = 1;
    bool possible = true;
    for (std::size_t i = 0; i < levels.size(); ++i) {
      if ((lower >> i & 1) == 0) continue;
      possible = possible && levels[i] > 0;
      --bounds_[i];
      sign = -sign;
    }
    if (possible) sum += sign * no_more_than(looked);
  }
  return std::max(sum, 0.0);
}

/// P(no more than `bounds_`).
double GivenLives::no_more_than(const Looked& looked) const {
  const Finding& finding = given_.network->findings[looked.finding];
  double all = 1;
  for (const std::vector<LifeChance>& ways : looked.leaks) all *= leak_no_more_than(looked, ways);
  for (const Link& link : finding.links) {
    if (lives_[link.cause] == Life{}) continue;
    const std::size_t bound = least_bound(looked, lives_[link.cause], link.inhibitors);
    if (bound != kUnbounded) all *= draws_no_more_than(bound, link.strength);
  }
  return all;
}

/// The same of a leak alone.
double GivenLives::leak_no_more_than(const Looked& looked,
                                     const std::vector<LifeChance>& ways) const {
  const Finding& finding = given_.network->findings[looked.finding];
  double sum = 0;
  for (const LifeChance& way : ways) {
    const std::size_t bound = least_bound(looked, way.life, finding.leak_inhibitors);
    sum += way.probability * (bound == kUnbounded ? 1 : draws_no_more_than(bound, finding.leak));
  }
  return sum;
}

/// What a source that lives so may draw at most: nothing bounds it where it does not live or is
/// hidden.
std::size_t GivenLives::least_bound(const Looked& looked, const Life& life,
                                    const std::vector<std::size_t>& inhibitors) const {
  std::size_t least = kUnbounded;
  for (std::size_t i = 0; i < looked.nodes.size(); ++i) {
    const Epoch epoch = looked.nodes[i].epoch;
    const bool hidden = std::any_of(inhibitors.begin(), inhibitors.end(),
                                    [&](std::size_t cause) { return lives_[cause].in(epoch); });
    if (life.in(epoch) && !hidden) least = std::min(least, bounds_[i]);
  }
  return least;
}

}  // namespace tickover::belief
