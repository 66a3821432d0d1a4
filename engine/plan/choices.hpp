/// @file
/// What else there is to say of an advice: checks worth doing before the machine is closed or
/// taken further apart, and what would have to be true for another action to come first.
#pragma once

#include <optional>
#include <vector>

#include "engine/plan/advise.hpp"

namespace tickover::plan {

/// Minutes that a check must spare to be told as worth its time.
constexpr double kLeastSpared = 1;

/// A check that can be done as the machine stands, by itself.
struct Worthwhile {
  std::size_t proposal = 0;  ///< index into Advice::proposals
  double spares = 0;         ///< minutes by itself; of what is planned perhaps none
  bool planned = false;      ///< the first part of Advice::course_now looks by it
  double later_minutes = 0;  ///< opening and closing that doing it later would cost
};

/// Minutes on average that the check spares, done alone and before going on without any check; from
/// scenarios where the proposal is (Proposal::estimated).
double spared_by_itself(const Advice& advice, const Proposal& check);

/// Checks that need no more opening and would need minutes of it once everything is closed: what
/// would be regretted after refitting: those that the plan looks by, and those worth their time by
/// themselves. Most spared per minute of work first. Empty when all is closed.
std::vector<Worthwhile> before_refit(const Workshop& workshop, const Evidence& evidence,
                                     const Advice& advice);

/// Checks with the engine running, worth their time, that the first proposal would put out of
/// reach until everything is closed again. Most spared per minute of work first.
std::vector<Worthwhile> before_strip(const Workshop& workshop, const Evidence& evidence,
                                     const Advice& advice);

/// Parts that a plan renews at one place without a look at what they mend, which is likelier not
/// the matter than it is.
struct Unseen {
  std::size_t repair = 0;      ///< index into pack.repairs
  std::optional<Place> place;  ///< none for the engine
  double needed = 0;           ///< P(the likeliest cause that it mends is there)
};
/// Of Advice::course_now, in its order; without what that looks at earlier.
std::vector<Unseen> renewed_unseen(const Model& model, const Advice& advice);

/// Indices into Advice::proposals: so many at most of the checks and questions that tell anything
/// worth a word, most told a minute first (Proposal::told).
std::vector<std::size_t> most_telling(const Advice& advice, std::size_t count);

}  // namespace tickover::plan
