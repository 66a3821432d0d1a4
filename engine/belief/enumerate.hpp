/// @file
/// The slow, obvious way: sum over every combination of causes. For checking the fast way.
#pragma once

#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// What exhaustive enumeration says of a case. All in long double.
struct Enumeration {
  long double log_evidence = 0;               ///< natural log of P(observations); -inf if 0
  std::vector<long double> present_at_start;  ///< P(cause present at epoch 0 | e)
  std::vector<long double> present_now;       ///< P(cause present at Case::now | e)
  std::vector<std::pair<std::vector<Life>, long double>>
      explanations;  ///< all, most probable first
};

/// Cost: the product over causes of their number of lives; meant for at most about 14 binary
/// causes.
Enumeration enumerate(const Case& given);

/// P(all `findings` are absent in the next epoch | e, and the causes in `removals` are removed at
/// the start of that epoch with their probability of success). Removal::epoch is ignored.
long double enumerate_cured(const Case& given, const std::vector<std::size_t>& findings,
                            const std::vector<Removal>& removals);

}  // namespace tickover::belief
