/// @file
/// A case ready to be swept: compiled, scheduled, and narrowed when it is too wide.
/// Inside belief only.
#pragma once

#include <utility>

#include "engine/belief/problem.hpp"
#include "engine/belief/schedule.hpp"

namespace tickover::belief {

struct Prepared {
  Problem problem;
  Schedule schedule;
  std::vector<std::size_t> set_aside;  ///< findings left out to keep the width within kWidest
};

Prepared prepare(const Case& given, const std::vector<std::size_t>* absent = nullptr);

/// Bounds on P(all observations of `finding` | any lives of the causes). Unit: probability (density
/// factor for soft observations).
std::pair<double, double> bounds_of_observations(const Case& given, std::size_t finding);

}  // namespace tickover::belief
