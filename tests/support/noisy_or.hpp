/// @file
/// Noisy-OR networks of any size that other solvers can read.
#pragma once

#include <cstddef>

#include "engine/belief/network.hpp"

namespace tickover::test {

struct NoisyOr {
  std::size_t causes, present, links;  ///< links of each finding
};

/// Twice as many findings as `present`, with leaks: half are present, the others absent. The same
/// for the same shape.
belief::Case noisy_or(const NoisyOr& shape);

}  // namespace tickover::test
