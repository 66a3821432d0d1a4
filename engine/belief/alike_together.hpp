/// @file
/// Draws that say the same become one scenario. Inside belief only.
#pragma once

#include <vector>

#include "engine/belief/scenarios.hpp"

namespace tickover::belief {

/// Of draws with any weights as their shares, what Scenario says, in an order of their own. A
/// scenario is worth as many equally probable draws as (sum of weights)^2 / sum of their squares
/// (Kish 1965, from memory).
std::vector<Scenario> alike_together(std::vector<Scenario> drawn);

}  // namespace tickover::belief
