/// @file
/// Vectors over coverage states, and the linear maps of the recursion with their transposes.
/// Index T of a vector is a set of open bits already covered. Inside belief only.
#pragma once

#include <cstdint>
#include <vector>

namespace tickover::belief {

using Coverage = std::vector<double>;

/// With probability `weight` the bits of `mask` (positions among the open bits) are covered.
struct Cover {
  double weight = 0;
  std::uint32_t mask = 0;
};

using Covers = std::vector<Cover>;

/// v[T | mask] gathers weight * v[T] over the alternatives. In place.
void cover(Coverage& v, const Covers& alternatives);
/// Transpose: u[T] = sum of weight * u[T | mask].
void cover_transposed(Coverage& u, const Covers& alternatives);

/// Adds `bits` open bits above the present ones, nothing covered yet.
void open_bits(Coverage& v, std::size_t bits);
void open_bits_transposed(Coverage& u, std::size_t bits);

/// Weighs the bits at `positions` by `table` (bit i of its index: positions[i] is covered) and sums
/// them out; the bits above move down.
void close_bits(Coverage& v, const std::vector<std::size_t>& positions,
                const std::vector<double>& table);
void close_bits_transposed(Coverage& u, const std::vector<std::size_t>& positions,
                           const std::vector<double>& table);

}  // namespace tickover::belief
