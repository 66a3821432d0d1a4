/// @file
/// What the courses planned from one situation share.
#pragma once

#include <vector>

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// What every course from a situation starts with.
class Start {
 public:
  explicit Start(const Situation& situation)
      : least_left(1 - situation.cures.all_gone()), cures_(situation.cures) {
    cures_.start();
    cured = cures_.cured();
  }

  /// Cures::culprits, asked for when first needed.
  const std::vector<double>& culprits() const {
    if (culprits_.empty()) culprits_ = cures_.culprits();
    return culprits_;
  }

  double least_left;  ///< P(not cured) even with every listed cause removed
  double cured;

 private:
  Cures& cures_;
  mutable std::vector<double> culprits_;
};

}  // namespace tickover::plan
