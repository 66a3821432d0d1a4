/// @file
/// What the courses planned from one situation share.
#pragma once

#include <algorithm>
#include <vector>

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// What every course from a situation starts with.
class Start {
 public:
  /// Both must stay.
  Start(const Workshop& workshop, const Situation& situation)
      : least_left(1 - situation.cures.all_gone()),
        workshop_(workshop),
        done_(situation.done),
        cures_(situation.cures) {
    cures_.start();
    cured = cures_.cured();
  }

  /// Cures::culprits, asked for when first needed.
  const std::vector<double>& culprits() const {
    if (culprits_.empty()) culprits_ = cures_.culprits();
    return culprits_;
  }

  /// The step's look was answered.
  bool looked(const CourseStep& step) const {
    const std::vector<std::size_t>& known = done_.looked;
    return step.look && std::find(known.begin(), known.end(), step.look->instance) != known.end();
  }

  /// A repair of what was looked at and is in order: nobody does that on sight of nothing.
  bool found_sound(const CourseStep& step) const {
    constexpr double kSound = 0.1;
    return !step.look &&
           std::all_of(step.removals.begin(), step.removals.end(), [&](const belief::Removal& one) {
             return cures_.present()[one.cause] < kSound && looked_at(one.cause);
           });
  }

  /// A cause of the step is almost certain.
  bool certain(const CourseStep& step) const {
    constexpr double kCertain = 0.8;
    return std::any_of(step.removals.begin(), step.removals.end(),
                       [&](const auto& one) { return cures_.present()[one.cause] >= kCertain; });
  }

  double least_left;  ///< P(not cured) even with every listed cause removed
  double cured;

 private:
  bool looked_at(std::size_t cause) const {
    return std::any_of(done_.looked.begin(), done_.looked.end(), [&](std::size_t instance) {
      return workshop_.model().findings[instance].cause == cause;
    });
  }

  const Workshop& workshop_;
  const Done& done_;
  Cures& cures_;
  mutable std::vector<double> culprits_;
};

}  // namespace tickover::plan
