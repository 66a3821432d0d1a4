/// @file
/// A case ready to be swept: compiled, scheduled, and narrowed when it is too wide.
/// Inside belief only.
#pragma once

#include <optional>

#include "engine/belief/infer.hpp"
#include "engine/belief/problem.hpp"
#include "engine/belief/schedule.hpp"
#include "engine/belief/sweep.hpp"

namespace tickover::belief {

/// Numbers that one pass may go through: some tenths of a second.
constexpr std::size_t kMostWork = std::size_t{24} << 20;

/// Takes one case after another and keeps its memory; the order found for one case is tried on the
/// next before a new one is looked for.
class Prepared {
 public:
  /// `absent` as in Compiler::compile. `merge` as in Scheduler::lay_out. Findings are set aside
  /// until at most `widest` bits are open at once and a pass is no longer than kMostWork.
  void pose(const Case& given, const std::vector<std::size_t>* absent = nullptr, bool merge = true,
            std::size_t widest = kWidest);

  /// Bits open at once when `given` is swept in the first order found: no better one is looked for,
  /// which takes as long as a sweep where it is wide.
  std::size_t width(const Case& given);

  const Problem& problem() const { return problem_; }
  const Schedule& schedule() const { return schedule_; }
  /// Findings left out, ascending.
  const std::vector<std::size_t>& set_aside() const { return set_aside_; }
  Sweep& sweep() { return sweep_; }

 private:
  void put_in_order(bool merge, std::size_t widest);
  void search_order(bool merge);
  bool narrow(std::size_t widest) const;

  Compiler compiler_;
  Scheduler scheduler_;
  Problem problem_;
  std::optional<Order> order_;
  bool merged_ = true;           ///< how schedule_ was laid out
  std::size_t width_found_ = 0;  ///< of order_ on the case for which it was looked for
  Schedule schedule_, other_;
  std::vector<std::size_t> set_aside_;
  Sweep sweep_;
};

}  // namespace tickover::belief
