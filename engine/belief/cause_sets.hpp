/// @file
/// Explanations put together that differ only in when causes came and went.
#pragma once

#include "engine/belief/infer.hpp"

namespace tickover::belief {

/// Causes that were there, and those of them that still are.
struct CauseSet {
  std::vector<std::size_t> causes, left;
  double probability = 0;  ///< exact before the first repair, else at least this
};

/// The most probable sets of causes `among` which explanations are sought, best first, at most
/// `count`. Once something was repaired a set has several explanations; those of the 40 most
/// probable are added up.
std::vector<CauseSet> cause_sets(const Case& given, std::size_t count,
                                 const std::vector<std::size_t>& among);

}  // namespace tickover::belief
