#include "engine/belief/coverage.hpp"

// Elementwise loops give the same bits whatever the width of the vectors they run in: AVX2 alone
// has no fused multiplication and addition.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__)
#define TICKOVER_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define TICKOVER_WIDE
#endif

namespace tickover::belief {
namespace {

/// One loop over pairs T, T | bit for each transformation; always inlined, so that short vectors
/// cost no call and long ones get the widest instructions of their caller.
template <class Change>
[[gnu::always_inline]] inline void each_pair(double* v, std::size_t size, std::size_t bit,
                                             const Change& change) {
  for (std::size_t block = 0; block < size; block += 2 * bit) {
    double* low = v + block;
    double* high = low + bit;
    for (std::size_t t = 0; t < bit; ++t) change(low[t], high[t]);
  }
}

/// The shortest blocks with a length known to the compiler.
template <class Change>
[[gnu::always_inline]] inline void each_pair_of_any(double* v, std::size_t size, std::size_t bit,
                                                    const Change& change) {
  if (bit == 1) return each_pair(v, size, 1, change);
  if (bit == 2) return each_pair(v, size, 2, change);
  each_pair(v, size, bit, change);
}

/// The same from one vector into another.
template <class Change>
[[gnu::always_inline]] inline void each_pair(double* to, const double* from, std::size_t size,
                                             std::size_t bit, const Change& change) {
  for (std::size_t block = 0; block < size; block += 2 * bit) {
    const double* low = from + block;
    double* to_low = to + block;
    for (std::size_t t = 0; t < bit; ++t) change(low[t], low[t + bit], to_low[t], to_low[t + bit]);
  }
}

template <class Change>
[[gnu::always_inline]] inline void each_pair_of_any(double* __restrict to,
                                                    const double* __restrict from, std::size_t size,
                                                    std::size_t bit, const Change& change) {
  if (bit == 1) return each_pair(to, from, size, 1, change);
  if (bit == 2) return each_pair(to, from, size, 2, change);
  each_pair(to, from, size, bit, change);
}

}  // namespace

TICKOVER_WIDE void cover(double* v, std::size_t size, const OneBit& one) {
  const double silent = one.silent, speaks = one.speaks, both = silent + speaks;
  each_pair_of_any(v, size, one.bit, [=](double& low, double& high) {
    high = both * high + speaks * low;
    low *= silent;
  });
}

TICKOVER_WIDE void cover_transposed(double* u, std::size_t size, const OneBit& one) {
  const double silent = one.silent, speaks = one.speaks, both = silent + speaks;
  each_pair_of_any(u, size, one.bit, [=](double& low, double& high) {
    low = silent * low + speaks * high;
    high *= both;
  });
}

TICKOVER_WIDE void cover_into(double* to, const double* from, std::size_t size, const OneBit& one) {
  const double silent = one.silent, speaks = one.speaks, both = silent + speaks;
  each_pair_of_any(to, from, size, one.bit,
                   [=](double low, double high, double& to_low, double& to_high) {
                     to_low = low * silent;
                     to_high = both * high + speaks * low;
                   });
}

TICKOVER_WIDE void add_cover(double* to, const double* from, std::size_t size, const OneBit& one,
                             double factor) {
  const double silent = factor * one.silent, speaks = factor * one.speaks, both = silent + speaks;
  each_pair_of_any(to, from, size, one.bit,
                   [=](double low, double high, double& to_low, double& to_high) {
                     to_low += low * silent;
                     to_high += both * high + speaks * low;
                   });
}

TICKOVER_WIDE void cover_transposed_into(double* to, const double* from, std::size_t size,
                                         const OneBit& one) {
  const double silent = one.silent, speaks = one.speaks, both = silent + speaks;
  each_pair_of_any(to, from, size, one.bit,
                   [=](double low, double high, double& to_low, double& to_high) {
                     to_low = silent * low + speaks * high;
                     to_high = both * high;
                   });
}

void cover(double* v, std::size_t size, const Cover* alternatives, std::size_t count) {
  // from the fullest set down: what flows into a set comes from smaller ones, not yet moved
  for (std::size_t t = size; t-- > 0;) {
    const double mass = v[t];
    v[t] = 0;
    for (std::size_t a = 0; a < count; ++a)
      v[t | alternatives[a].mask] += alternatives[a].weight * mass;
  }
}

void cover_transposed(double* u, std::size_t size, const Cover* alternatives, std::size_t count) {
  for (std::size_t t = 0; t < size; ++t) {
    double sum = 0;
    for (std::size_t a = 0; a < count; ++a)
      sum += alternatives[a].weight * u[t | alternatives[a].mask];
    u[t] = sum;
  }
}

/// Four sums side by side, added in a fixed order: as fast as the machine allows and the same
/// everywhere.
TICKOVER_WIDE double inner(const double* a, const double* b, std::size_t size) {
  double sums[4] = {0, 0, 0, 0};
  std::size_t t = 0;
  for (; t + 4 <= size; t += 4) {
    for (std::size_t i = 0; i < 4; ++i) sums[i] += a[t + i] * b[t + i];
  }
  for (; t < size; ++t) sums[0] += a[t] * b[t];
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

double inner_covered(const double* a, const double* b, std::size_t size, std::uint32_t bit) {
  double sum = 0;
  for (std::size_t block = 0; block < size; block += std::size_t{2} * bit) {
    for (std::size_t t = block; t < block + bit; ++t) sum += (a[t] + a[t + bit]) * b[t + bit];
  }
  return sum;
}

TICKOVER_WIDE void scale(double* to, const double* from, std::size_t size, double factor) {
  for (std::size_t t = 0; t < size; ++t) to[t] = factor * from[t];
}

TICKOVER_WIDE void add_scaled(double* to, const double* from, std::size_t size, double factor) {
  for (std::size_t t = 0; t < size; ++t) to[t] += factor * from[t];
}

}  // namespace tickover::belief
