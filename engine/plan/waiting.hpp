/// @file
/// Checks that can wait until what is probably the matter was mended.
#pragma once

#include "engine/plan/leaves.hpp"
#include "engine/plan/proposal.hpp"

namespace tickover::plan {

/// Of one present course.
class Waiting {
 public:
  /// Both must stay.
  Waiting(const Workshop& workshop, Leaves& leaves) : workshop_(workshop), leaves_(leaves) {}

  /// The course begins with repairs alone, which probably are all there is to do, and with the same
  /// ones after nearly every result of the check or question. It must have been worked out.
  bool changes_nothing_of(const Proposal& proposal) const;

  /// Minutes that doing the check after those repairs, where they are in vain, takes off doing it
  /// now, on average; below 0 where it costs more. What few results gain that lead elsewhere is
  /// lost.
  double spared(const Proposal& check) const;

 private:
  bool begins_alike(const Forecast& forecast) const;

  const Workshop& workshop_;
  Leaves& leaves_;
};

}  // namespace tickover::plan
