/// @file
/// What was seen of one finding over the epochs, as the states of a chain. Inside belief/tables
/// only.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief::tables {

/// The states tell what matters alone, as in the sweep: for each epoch in which a level above 0 was
/// seen, or a sensor looked, a bit "accounted for", set once something produces that level (for a
/// sensor: any); bit i of a state is epochs()[i]. Where a level higher than one seen can be
/// produced, one state more, the last: ruled out. Epochs between which nothing that produces or
/// hides the finding came or went are alike: one stands for all of them.
class FindingCourse {
 public:
  FindingCourse(const Case& given, std::size_t finding);

  std::size_t finding() const { return finding_; }
  const std::vector<Link>& links() const { return given_.network->findings[finding_].links; }
  const std::vector<std::size_t>& leak_inhibitors() const {
    return given_.network->findings[finding_].leak_inhibitors;
  }
  bool observed() const { return !looks_.empty(); }
  /// Level 0 whenever it was looked at, and no sensor: state 0 is all silent, state 1 ruled out.
  bool only_absent() const { return epochs_.empty(); }

  std::size_t states() const { return (std::size_t{1} << epochs_.size()) + can_be_ruled_out_; }
  /// Those with a bit, ascending.
  const std::vector<Epoch>& epochs() const { return epochs_; }
  /// The epoch with a bit that a sensor in `epoch` looks at.
  Epoch alike(Epoch epoch) const;
  /// The state in which all levels are accounted for; none when sensors leave several open.
  std::optional<std::size_t> only_state_seen() const;
  /// Whether in this state all levels seen are accounted for and nothing is ruled out.
  bool agrees(std::size_t state) const;
  bool can_be_ruled_out() const { return can_be_ruled_out_; }

  /// P(each state | the leaks alone, their inhibitors having lived so).
  std::vector<double> from_leaks(std::span<const Life> hidden = {}) const;
  /// P(each state | it was `before` without the link). `lived`: its cause, then its inhibitors.
  std::vector<double> produced(const Link& link, std::span<const Life> lived,
                               std::size_t before) const;
  /// The same from what the leaks produce, where they have no inhibitors.
  std::vector<double> produced_on_leaks(const Link& link, std::span<const Life> lived) const;

 private:
  /// What was seen in an epoch and those alike.
  struct Look {
    Epoch epoch = 0;
    std::size_t highest = 0;                 ///< level above which nothing may be produced
    std::optional<std::size_t> wanted = {};  ///< level seen that must be produced
    bool sensed = false;
    std::optional<std::size_t> bit = {};
  };

  Look& look_at(Epoch epoch);
  std::vector<LifeChance> leaks(Epoch begin) const;
  void collect_lives();
  bool are_alike(Epoch a, Epoch b) const;
  std::size_t raised(std::size_t state, std::size_t level, const Life& life,
                     std::span<const Life> hidden) const;
  void add(const std::vector<double>& strength, const Life& life, std::span<const Life> hidden,
           double chance, std::size_t before, std::vector<double>& states) const;

  const Case& given_;
  const std::size_t finding_;
  const std::size_t top_;    ///< its highest level
  std::vector<Life> lives_;  ///< of all that can produce it or hide it
  std::vector<Look> looks_;
  std::vector<Epoch> epochs_;
  bool can_be_ruled_out_ = false;
};

}  // namespace tickover::belief::tables
