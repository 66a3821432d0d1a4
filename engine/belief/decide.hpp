/// @file
/// A narrower case for planning, where a thousand cases are weighed and none is shown.
#pragma once

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// The case in which findings that sensors leave no doubt of are taken as absent: those present
/// with probability at most `doubt`. Each then costs no bit, where a sensor's table keeps one alive
/// for each of its findings. What is left of the tables stays. The probability of a finding is
/// estimated from the tables of its epoch and from the causes' marginals without any sensor, as if
/// causes and findings were independent; answers move by about the sum of the doubts.
Case decided(Case given, double doubt);

}  // namespace tickover::belief
