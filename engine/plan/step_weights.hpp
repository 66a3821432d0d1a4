/// @file
/// What the steps of a course are worth while it is made.
#pragma once

#include <vector>

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// The weight of a step: P(a cause of the step must go, is still there, and goes), summed over its
/// causes, those aside for which it now does less than half of what it does at first. Kept for all
/// of Workshop::steps, and brought up to date only where a cause of theirs was removed.
class StepWeights {
 public:
  /// `blamed`: per cause, P(it must go, and is still there); `tries` those made so far. Workshop
  /// and tries must stay.
  StepWeights(const Workshop& workshop, std::vector<double> blamed, const Tries& tries);

  /// Of a step of Workshop::steps.
  double operator[](std::size_t step) const { return weights_[step]; }
  /// Of any step.
  double of(const CourseStep& step) const;
  /// The cause was repaired with this success, which is among the tries by now.
  void remove(const belief::Removal& removal);

 private:
  void update(std::size_t cause);

  const Workshop& workshop_;
  const Tries& tries_;
  std::vector<double> blamed_;   ///< per cause
  std::vector<double> weights_;  ///< per step
};

}  // namespace tickover::plan
