#include "engine/belief/coverage.hpp"

#include <cstring>

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

/// A linear map of the pair (v[T], v[T | bit]): new low = low_low * low + low_high * high, and so
/// on.
struct PairMap {
  double low_low = 0, low_high = 0, high_low = 0, high_high = 0;
};

/// Where bit is below the width of a vector, its neighbours come from a shuffle. Adding 0 times the
/// neighbour changes no bit of a finite sum of non-negative terms.
typedef double Four __attribute__((vector_size(32)));

template <bool kAdd, int kBit>
[[gnu::always_inline]] inline void shuffled(double* to, const double* from, std::size_t size,
                                            const Four& own, const Four& other) {
  for (std::size_t t = 0; t < size; t += 4) {
    Four v, sum;
    std::memcpy(&v, from + t, sizeof v);
    sum = own * v + other * __builtin_shufflevector(v, v, kBit, kBit ^ 1, kBit ^ 2, kBit ^ 3);
    if (kAdd) {
      Four old;
      std::memcpy(&old, to + t, sizeof old);
      sum += old;
    }
    std::memcpy(to + t, &sum, sizeof sum);
  }
}

template <bool kAdd>
[[gnu::always_inline]] inline void put(double& to, double value) {
  if (kAdd) {
    to += value;
  } else {
    to = value;
  }
}

/// Blocks of a length known to the compiler, or not (0).
template <bool kAdd, std::size_t kBit>
[[gnu::always_inline]] inline void each_pair(double* to, const double* from, std::size_t size,
                                             std::size_t any_bit, const PairMap& map) {
  const std::size_t bit = kBit > 0 ? kBit : any_bit;
  for (std::size_t block = 0; block < size; block += 2 * bit) {
    for (std::size_t t = block; t < block + bit; ++t) {
      const double low = from[t], high = from[t + bit];
      put<kAdd>(to[t], map.low_low * low + map.low_high * high);
      put<kAdd>(to[t + bit], map.high_low * low + map.high_high * high);
    }
  }
}

/// to = or += the map of `from`, which is `to` itself or does not overlap it. Always inlined, so
/// that it gets the widest instructions of its caller, and the caller's zeros drop out.
template <bool kAdd>
[[gnu::always_inline]] inline void each_pair_of_any(double* to, const double* from,
                                                    std::size_t size, std::size_t bit,
                                                    const PairMap& m) {
  if (bit == 1 && size >= 4) {
    return shuffled<kAdd, 1>(to, from, size, Four{m.low_low, m.high_high, m.low_low, m.high_high},
                             Four{m.low_high, m.high_low, m.low_high, m.high_low});
  }
  if (bit == 2) {
    return shuffled<kAdd, 2>(to, from, size, Four{m.low_low, m.low_low, m.high_high, m.high_high},
                             Four{m.low_high, m.low_high, m.high_low, m.high_low});
  }
  if (bit == 1) return each_pair<kAdd, 1>(to, from, size, bit, m);
  if (bit == 4) return each_pair<kAdd, 4>(to, from, size, bit, m);
  if (bit == 8) return each_pair<kAdd, 8>(to, from, size, bit, m);
  each_pair<kAdd, 0>(to, from, size, bit, m);
}

/// The same in place and between two vectors: told apart so that the compiler knows.
template <bool kAdd>
[[gnu::always_inline]] inline void between(double* __restrict to, const double* __restrict from,
                                           std::size_t size, std::size_t bit, const PairMap& map) {
  each_pair_of_any<kAdd>(to, from, size, bit, map);
}

PairMap covering(const OneBit& one, double factor) {
  const double silent = factor * one.silent, speaks = factor * one.speaks;
  return {silent, 0, speaks, silent + speaks};
}

PairMap transposed(const PairMap& map) {
  return {map.low_low, map.high_low, map.low_high, map.high_high};
}

}  // namespace

TICKOVER_WIDE void cover(double* v, std::size_t size, const OneBit& one) {
  each_pair_of_any<false>(v, v, size, one.bit, covering(one, 1));
}

TICKOVER_WIDE void cover_transposed(double* u, std::size_t size, const OneBit& one) {
  each_pair_of_any<false>(u, u, size, one.bit, transposed(covering(one, 1)));
}

TICKOVER_WIDE void cover_into(double* to, const double* from, std::size_t size, const OneBit& one) {
  between<false>(to, from, size, one.bit, covering(one, 1));
}

TICKOVER_WIDE void add_cover(double* to, const double* from, std::size_t size, const OneBit& one,
                             double factor) {
  between<true>(to, from, size, one.bit, covering(one, factor));
}

TICKOVER_WIDE void cover_transposed_into(double* to, const double* from, std::size_t size,
                                         const OneBit& one) {
  between<false>(to, from, size, one.bit, transposed(covering(one, 1)));
}

TICKOVER_WIDE void close(double* v, std::size_t size, std::uint32_t bit, double open,
                         double closed) {
  each_pair_of_any<false>(v, v, size, bit, {open, closed, 0, 0});
}

TICKOVER_WIDE void close_transposed(double* u, std::size_t size, std::uint32_t bit, double open,
                                    double closed) {
  each_pair_of_any<false>(u, u, size, bit, {open, 0, closed, 0});
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
