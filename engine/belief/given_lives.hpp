/// @file
/// Findings once it is known how every cause lived. Inside belief only.
#pragma once

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// Causes that were ever present, ascending, with how they lived.
using Lived = std::vector<std::pair<std::uint32_t, Life>>;

/// P(all that was seen of some findings | how every cause lived), sensors' densities included.
/// Given the lives, findings depend on each other through sensors alone. What one finding showed in
/// several epochs is P(no more than these levels), in which every link and leak is a factor with
/// what it draws once, summed with alternating signs over "no more than the level" and "no more
/// than the next lower": few terms, for few looks.
class GivenLives {
 public:
  /// `findings` ascending, with all that sensors tie to them. `given` must stay.
  GivenLives(const Case& given, const std::vector<std::size_t>& findings);

  /// Of `findings`, ascending, those looked at too often for that: left out of what `of` tells.
  const std::vector<std::size_t>& left_out() const { return left_out_; }
  double of(const Lived& lived);

 private:
  /// A finding in an epoch in which it was looked at.
  struct Node {
    Epoch epoch = 0;
    std::optional<std::size_t> level;  ///< seen by itself; else only sensors tell of it
    std::size_t free = 0;              ///< its number among those of the group, otherwise
  };
  struct Looked {
    std::size_t finding = 0;
    std::vector<Node> nodes;
    std::vector<std::vector<LifeChance>> leaks;  ///< of each leak, how it can have lived
    std::size_t first_free = 0, free = 0;        ///< its own among those of the group
    const Node* at(Epoch epoch) const;
  };
  /// What a sensor tells of, by the nodes it reads.
  struct Sensor {
    const SoftObservation* told = nullptr;
    std::vector<Node> reads;
  };
  /// Findings that sensors tie together.
  struct Group {
    std::vector<Looked> findings;
    std::vector<Sensor> sensors;
    std::size_t free = 0;
    bool contradiction = false;  ///< one finding at two levels in one epoch
  };

  std::vector<std::vector<std::size_t>> tied_together(const std::vector<std::size_t>& all) const;
  Group group_of(const std::vector<std::size_t>& findings) const;
  Looked looked_at(std::size_t finding, Group& group) const;
  double of(const Group& group);
  static double says(const Sensor& sensor, std::size_t free);
  double exactly(const Looked& looked, std::size_t own);
  double no_more_than(const Looked& looked) const;
  double leak_no_more_than(const Looked& looked, const std::vector<LifeChance>& ways) const;
  std::size_t least_bound(const Looked& looked, const Life& life,
                          const std::vector<std::size_t>& inhibitors) const;

  const Case& given_;
  std::vector<std::vector<double>> exactly_;  ///< per finding of a group, by its own free nodes
  std::vector<std::size_t> left_out_;
  std::vector<Group> groups_;
  std::vector<Life> lives_;          ///< per cause, of those asked about
  std::vector<std::size_t> bounds_;  ///< per node of the finding in question
};

}  // namespace tickover::belief
