/// @file
/// What a proposal costs by the belief after each of its results.
#pragma once

#include "engine/belief/ground.hpp"
#include "engine/belief/infer.hpp"
#include "engine/plan/leaves.hpp"
#include "engine/plan/proposal.hpp"

namespace tickover::plan {

/// Does something while the case holds what was observed.
template <class Act>
void after(const belief::Ground& ground, belief::Case& given,
           const std::vector<Observation>& observations, const Act& act) {
  const std::size_t levels = given.levels.size(), soft = given.soft.size(),
                    causes = given.seen.size();
  for (const Observation& observation : observations) ground.observe(given, observation);
  act();
  given.levels.resize(levels);
  given.soft.resize(soft);
  given.seen.resize(causes);
}

/// Expected cost of observation (Heckerman, Breese & Rommelse 1995), by exact belief.
class ExactPrices {
 public:
  /// All must stay. `leaves` are those of `given` and `base`, its belief.
  ExactPrices(const Model& model, const belief::Ground& ground, belief::Case& given,
              const belief::Belief& base, belief::Solver& solver, Leaves& leaves)
      : model_(model),
        ground_(ground),
        given_(given),
        base_(base),
        solver_(solver),
        leaves_(leaves) {}

  /// Sets what the proposal costs now, from what each of its forecasts leads to.
  void price(Proposal& proposal);

 private:
  void price_result(Forecast& forecast, const OpenLayers& open);
  void learn_from_alike(Forecast& forecast, const Proposal& proposal);
  double mischosen(const Proposal& proposal);

  const Model& model_;
  const belief::Ground& ground_;
  belief::Case& given_;
  const belief::Belief& base_;
  belief::Solver& solver_;
  Leaves& leaves_;
};

}  // namespace tickover::plan
