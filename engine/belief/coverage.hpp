/// @file
/// The linear maps of the recursion on vectors over coverage states, with their transposes. Index T
/// of a vector is a set of slots already covered; each open bit holds a slot. Inside belief only.
#pragma once

#include <cstddef>
#include <cstdint>

#include "engine/foundation/vectors.hpp"

namespace tickover::belief {

/// With probability `weight` the slots of `mask` are covered.
struct Cover {
  double weight = 0;
  std::uint32_t mask = 0;
};

/// The usual case, one slot: nothing with `silent`, the slot of `bit` (a mask) with `speaks`.
struct OneBit {
  double silent = 0, speaks = 0;
  std::uint32_t bit = 0;
};

// All work on the `size` entries from `v` or `u` on, in place; `size` is a power of two.

/// v[T | bit] gathers speaks * v[T], all else stays with `silent`.
void cover(double* v, std::size_t size, const OneBit& one);
/// Transpose.
void cover_transposed(double* u, std::size_t size, const OneBit& one);

// Several in turn, one at least, from one vector into another that does not overlap it.

/// to = cover(.. cover(from)).
void cover_all(double* to, const double* from, std::size_t size, const OneBit* ones,
               std::size_t count);
/// Transpose.
void cover_all_transposed(double* to, const double* from, std::size_t size, const OneBit* ones,
                          std::size_t count);

/// v[T] = open * v[T] + closed * v[T | bit], and nothing is left at T | bit.
void close(double* v, std::size_t size, std::uint32_t bit, double open, double closed);
/// Transpose; what stands at T | bit is not looked at.
void close_transposed(double* u, std::size_t size, std::uint32_t bit, double open, double closed);

/// v[T | mask] gathers weight * v[T] over the `count` alternatives.
void cover(double* v, std::size_t size, const Cover* alternatives, std::size_t count);
/// Transpose: u[T] = sum of weight * u[T | mask].
void cover_transposed(double* u, std::size_t size, const Cover* alternatives, std::size_t count);

/// sum of a[T] * b[T | bit]: the inner product with b's cover by a sure OneBit, transposed.
double inner_covered(const double* a, const double* b, std::size_t size, std::uint32_t bit);

}  // namespace tickover::belief
