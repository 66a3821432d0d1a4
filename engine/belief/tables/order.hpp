/// @file
/// In which order the variables of a discrete network are summed out, and what that takes:
/// structure apart from numbers.
#pragma once

#include <cstddef>
#include <vector>

#include "engine/belief/tables/factor.hpp"

namespace tickover::belief::tables {

/// What elimination in the best order found takes.
struct Need {
  std::size_t treewidth =
      0;                  ///< of that order: most variables that one is summed out together with
  double bytes = 0;       ///< for the messages of both passes
  bool at_least = false;  ///< hopelessly wide: what was met until the search was given up
  bool too_wide = false;  ///< more bytes than the limit
};

struct Order {
  std::vector<std::size_t> variables;  ///< those not known, in the order of elimination
  Need need;
};

/// Memory for tables in the course of elimination, as for the rest of belief. Unit: bytes.
constexpr double kMostBytes = 256.0 * 1024 * 1024;
/// What one entry of a message takes: both passes, and while it is being summed.
constexpr double kBytesAnEntry = 32;

/// The better, by bytes, of the greedy orders by min-fill and by min-weight; ties by index, so
/// equal networks get equal orders. Source: Koller & Friedman 2009, section 9.4.3.
Order find_order(const Reduced& reduced, const std::vector<std::size_t>& cardinality,
                 double limit = kMostBytes);

}  // namespace tickover::belief::tables
