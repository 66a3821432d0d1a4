/// @file
/// In which order the variables of a problem are taken, and where each bit lies meanwhile:
/// structure apart from numbers. Inside belief only.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "engine/belief/problem.hpp"

namespace tickover::belief {

/// Variables whose emissions touch more than one bit, in the order in which they are taken.
using Order = std::vector<std::uint32_t>;

enum class StepKind : std::uint8_t {
  open,   ///< gives the bits of group `index` their slots
  apply,  ///< multiplies variable `index` in
  merge,  ///< multiplies in all variables that touch bit `index` alone
  close,  ///< weighs and sums out the bits of group `index`
};

struct Step {
  StepKind kind = StepKind::apply;
  std::uint32_t index = 0;
  std::uint32_t size = 1;        ///< entries of the vector before this step
  std::uint32_t size_after = 1;  ///< and after it
};

/// Every variable that touches a bit is applied once, within a step `apply` or with others in a
/// step `merge`. A group is open from before its first to after its last variable. Variables that
/// touch no bit are in no step: they are independent of all others.
struct Schedule {
  std::vector<Step> steps;
  std::vector<std::uint8_t> slot;     ///< per bit: which bit of a vector's index it is while open
  std::vector<std::uint32_t> alone;   ///< variables in no step
  std::vector<std::uint32_t> merged;  ///< variables of the merge steps, by bit
  std::vector<Range> merged_of;       ///< per bit: its part of `merged`
  std::size_t width = 0;              ///< most slots in use at once
};

/// Makes schedules one after the other with little new memory.
class Scheduler {
 public:
  /// The problem that is spoken of until the next; it must stay until then. True when it has the
  /// structure of the one before, so that a schedule for that is one for this.
  bool take(const Problem& problem);

  /// Greedy min-weight elimination on the interaction graph of groups and variables (Boost.Graph):
  /// next the group whose completion needs the fewest bits open at once, then the fewest
  /// variables; ties by index, so equal problems get equal orders.
  /// Source: Koller & Friedman 2009, section 9.4.3 (min-weight), on the graph of accumulator bits.
  Order find_order() const;

  /// The variables of `known` that still touch several bits, in that order, and others where a bit
  /// of theirs is last used: good for a problem that differs by a finding or two.
  Order extend(const Order& known) const;

  /// Without `merge` variables that touch one bit alone get a step of their own too, just before
  /// the bit is closed.
  void lay_out(const Order& order, Schedule& out, bool merge = true) const;

 private:
  void find_touched();
  void sort_out(Schedule& out) const;
  bool touches_several(std::size_t v) const { return touched_of_[v].size() > 1; }

  const Problem* problem_ = nullptr;
  std::vector<std::uint32_t> touched_;  ///< bits touched by each variable, ascending
  std::vector<Range> touched_of_;
  std::vector<std::uint32_t> group_of_;                       ///< per bit; dropped bits have none
  std::vector<std::uint32_t> touched_before_, group_before_;  ///< of the problem before
  std::vector<Range> touched_of_before_;
};

}  // namespace tickover::belief
