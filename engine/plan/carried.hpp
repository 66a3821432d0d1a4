/// @file
/// Quick decisions, one after another: scenarios that are carried along.
#pragma once

#include <optional>

#include "engine/plan/lookahead.hpp"

namespace tickover::plan {

/// One step of lookahead over scenarios alone. They are drawn from the exact belief once and
/// weighed by each answer, as the belief of a particle filter is (Gordon, Salmond & Smith 1993,
/// from memory), with the courses planned so far; drawn anew after a repair, where a finding is
/// seen again or against siblings seen before, and where too few of them would be left to speak.
/// Several times quicker than advise(), with the same decisions for the most part; not exact, and
/// nothing but the first thing to do is told.
class Carried {
 public:
  /// All must stay; `evidence` may grow between decisions.
  Carried(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence)
      : workshop_(workshop), ground_(ground), evidence_(evidence) {}

  /// What comes first, with its minutes and those of what it takes; none where the evidence
  /// contradicts itself.
  std::optional<Proposal> first();

 private:
  bool learn();
  bool of_their_own(std::size_t first) const;
  bool draw();

  const Workshop& workshop_;
  const belief::Ground& ground_;
  const Evidence& evidence_;
  belief::Case given_;  ///< that the scenarios were drawn from
  std::optional<Lookahead> lookahead_;
  // Of the evidence, what is weighed in already.
  std::size_t observations_ = 0, replaced_ = 0, repairs_ = 0, unverified_ = 0, complaint_ = 0;
};

}  // namespace tickover::plan
