/// @file
/// One pass forward, one backward over a scheduled problem. Inside belief only.
#pragma once

#include <vector>

#include "engine/belief/coverage.hpp"
#include "engine/belief/problem.hpp"
#include "engine/belief/schedule.hpp"

namespace tickover::belief {

/// A state with its emissions as covers of open-bit positions.
struct PlacedState {
  double weight = 0;
  std::vector<Covers> emissions;
};

/// A step with everything resolved to positions among the bits open at that step.
struct PlacedStep {
  StepKind kind = StepKind::apply;
  std::size_t variable = 0;                    ///< apply
  std::vector<PlacedState> states, removed;    ///< apply: one per state of the variable
  std::size_t bits = 0;                        ///< open
  std::vector<std::size_t> positions;          ///< close
  const std::vector<double>* table = nullptr;  ///< close: owned by the problem
};

std::vector<PlacedStep> place(const Problem& problem, const Schedule& schedule);

/// v <- weight * (cover of each emission in turn) v; and the transpose.
void apply(const PlacedState& state, Coverage& v);
void apply_transposed(const PlacedState& state, Coverage& u);

/// Masses of a problem in logarithms (natural).
class Sweep {
 public:
  /// `problem` and `schedule` must outlive the sweep.
  Sweep(const Problem& problem, const Schedule& schedule);

  /// Total mass: natural log of P(e); -infinity when 0. With `removed`, one share per variable:
  /// with that probability its `removed` states stand in for its states.
  double forward(const std::vector<double>* removed = nullptr);

  /// Forward, then backward; after it the masses below can be asked for.
  double both_ways(const std::vector<double>* removed = nullptr);

  /// Natural log of the mass with variable `v` in each of its states (all others as they are).
  std::vector<double> log_masses(std::size_t v) const;
  /// Natural log of the mass with variable `v` in any of its states, or of its `removed` ones.
  double log_mass_kept(std::size_t v) const;
  double log_mass_removed(std::size_t v) const;

 private:
  void add_states(Coverage& sum, double share, const std::vector<PlacedState>& states,
                  const Coverage& v, bool transposed);
  void apply_step(const PlacedStep& step, const Coverage& v, bool transposed, Coverage& sum);
  double share_removed(std::size_t v) const { return removed_ == nullptr ? 0 : (*removed_)[v]; }
  double log_elsewhere(std::size_t v) const;
  std::vector<double> log_masses(std::size_t v, const States& plain,
                                 std::vector<PlacedState> PlacedStep::*placed) const;

  const Problem& problem_;
  std::vector<PlacedStep> steps_;
  std::vector<std::size_t> step_of_;  ///< per variable; steps_.size() when in no step
  const std::vector<double>* removed_ = nullptr;
  Coverage scratch_;   ///< spares an allocation for every state
  bool keep_ = false;  ///< the forward pass keeps its vectors for the backward one
  std::vector<Coverage> before_, after_;  ///< per apply step: forward before, backward after
  std::vector<double> log_before_, log_after_;
  std::vector<double> log_alone_;  ///< per variable in no step: log of its weight
  double log_alone_sum_ = 0;
  double log_scheduled_ = 0;  ///< log of the mass of the variables in steps
};

}  // namespace tickover::belief
