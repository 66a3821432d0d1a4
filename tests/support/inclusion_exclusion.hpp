/// @file
/// The evidence of a case by the textbook alternating sum (Heckerman 1989): shares neither its sums
/// nor its shortcuts with the enumerator or the engine. It cancels, so it says how far to trust it.
#pragma once

#include "engine/belief/network.hpp"

namespace tickover::test {

struct AlternatingSum {
  long double evidence = 0;
  long double magnitude = 0;  ///< sum of the terms without their signs: rounding is of this order
};

/// P(observations). Cost: 2^(observations of a level above 0 + states sensed).
AlternatingSum inclusion_exclusion(const belief::Case& given);

}  // namespace tickover::test
