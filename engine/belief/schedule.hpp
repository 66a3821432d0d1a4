/// @file
/// In which order the variables of a problem are taken: structure apart from numbers.
/// Inside belief only.
#pragma once

#include <cstddef>
#include <vector>

#include "engine/belief/problem.hpp"

namespace tickover::belief {

enum class StepKind { open, apply, close };

/// `index` is the group to open or close, or the variable to apply.
struct Step {
  StepKind kind = StepKind::apply;
  std::size_t index = 0;
};

/// Every variable that can cover a bit is applied once; each group is open from before its first to
/// after its last. `width` is the largest number of bits open at once.
/// Variables that cover no bit are not in it: they are independent of all others.
struct Schedule {
  std::vector<Step> steps;
  std::size_t width = 0;
};

/// Greedy min-weight elimination on the interaction graph of groups and variables (Boost.Graph):
/// next the group whose completion needs the fewest bits open at once, then the fewest variables;
/// ties by index, so equal problems get equal orders.
/// Source: Koller & Friedman 2009, section 9.4.3 (min-weight), on the graph of accumulator bits.
Schedule schedule(const Problem& problem);

}  // namespace tickover::belief
