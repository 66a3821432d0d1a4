/// @file
/// What the batch of a course holds while the course is made.
#pragma once

#include <vector>

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// Of the batch that is being made: which kinds of steps it holds, and at which spots. What was in
/// batches before is known by their number, so that nothing is cleared.
class Contents {
 public:
  explicit Contents(const Workshop& workshop)
      : repairs_(workshop.model().pack.repairs.size()),
        kinds_(repairs_ + workshop.model().pack.checks.size(), 0),
        repaired_(workshop.steps().size(), 0),
        looked_(workshop.steps().size(), 0) {}

  /// The same for steps that are alike: a repair, or after those a check.
  std::size_t kind(const CourseStep& step) const {
    return step.look ? repairs_ + step.look->check : step.repair;
  }
  bool has_alike(const CourseStep& step) const { return kinds_[kind(step)] == batch_; }
  /// The same repair at the same place, by itself.
  bool repairs(const CourseStep& step) const { return repaired_[step.spot] == batch_; }
  /// The same repair at the same place, where a look speaks for it.
  bool looks(const CourseStep& step) const { return looked_[step.spot] == batch_; }

  void add(const CourseStep& step) {
    kinds_[kind(step)] = batch_;
    (step.look ? looked_ : repaired_)[step.spot] = batch_;
  }
  void begin_next() { ++batch_; }

 private:
  std::size_t batch_ = 1;
  std::size_t repairs_;
  std::vector<std::size_t> kinds_, repaired_, looked_;  ///< the last batch with one
};

}  // namespace tickover::plan
