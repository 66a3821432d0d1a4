/// @file
/// Why this and not that.
#pragma once

#include "engine/plan/advise.hpp"

namespace tickover::plan {

/// Why one proposal comes before another.
struct Comparison {
  double more_minutes = 0;  ///< what the other costs more on average
  bool besides = false;     ///< as of More
  /// The cause whose probability would have to move least for the other to come first, its
  /// probability now and there; none when no single one would do.
  std::optional<std::size_t> cause;
  double now = 0, at_draw = 0;
  bool too_wide = false;  ///< such a cause was not looked for: each try would take too long
  Proposal repair;        ///< to be done first, by itself, where that costs least now
};

/// Both proposals as advise() told them in full, and its Advice::course_now. The probability at a
/// draw is that of the cause on what is known now, its odds changed by a single further observation
/// of it, to about a tenth of a natural log-odd.
Comparison compare(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
                   const Course& course_now, const Proposal& first, const Proposal& other);

/// The same against doing a repair (of pack.repairs) before anything else, at one place or at all,
/// and going on as `course_now`, or with `first` if it was in vain. None where the workshop cannot
/// do it.
std::optional<Comparison> compare(const Workshop& workshop, const belief::Ground& ground,
                                  const Evidence& evidence, const Course& course_now,
                                  const Proposal& first, std::size_t repair);

}  // namespace tickover::plan
