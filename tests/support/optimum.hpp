/// @file
/// The best that can be done in a small job, and what doing as the planner says costs there.
#pragma once

#include <functional>

#include "tests/support/exhaustive.hpp"
#include "tests/support/small_job.hpp"

namespace tickover::test {

struct Optimum {
  double minutes = 0;      ///< expected, of the best policy: what to do may hang on all results
  std::size_t states = 0;  ///< that were worked out
  std::string plan;        ///< what it does, a line each, as far as is wanted
};

/// By dynamic programming over all that may have been done and seen. With `pruned`, what cannot be
/// the best even if all were told for free is not followed; the answer is the same. From the start
/// of the job, or from another state of it.
Optimum optimum(const SmallJob& small, bool pruned = true, bool told = false);
Optimum optimum_from(const SmallJob& small, SmallJob::State state);

struct PlannerCost {
  double minutes = 0;         ///< expected, all results followed
  std::size_t decisions = 0;  ///< that it was asked for
  double worst_belief = 0;    ///< largest difference of a cause's probability from the exact one
  std::string plan;           ///< what it does, a line each, as far as is wanted
};

/// Is shown every state that the planner decides in, and what it is told there.
using Watch = std::function<void(const SmallJob::State&, const plan::Advice&)>;

/// Does what advise() puts first from `journal` on, which is that of `small`, for every result,
/// until the job ends. A batch is carried out as engine/trial does it: looks first; what a look
/// speaks for is repaired at once and the rest decided anew.
PlannerCost planner_cost(const SmallJob& small, const Journal& journal, const plan::Effort& effort,
                         bool told = false, const Watch& watch = {});

/// The same for what a plan::Carried puts first that has seen the job from its beginning.
PlannerCost carried_cost(const SmallJob& small, const Journal& journal);

/// What a random decision problem may hold, at most.
struct DecisionShape {
  std::size_t causes = 4, looks = 2, responses = 2, repairs = 3, layers = 3;
};

/// Every cause has a repair, or none within the number of repairs; looks and responses err; repairs
/// fail. "symptom-0" can be produced by every cause.
SmallPack random_decision(Random& random, const DecisionShape& shape);
/// The complaint, perhaps a second symptom that is absent, perhaps something open.
JobWriter random_complaint(Random& random, const SmallPack& small);

}  // namespace tickover::test
