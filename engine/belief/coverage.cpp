#include "engine/belief/coverage.hpp"

#include <algorithm>
#include <cstring>

#include "engine/foundation/wide.hpp"

namespace tickover::belief {
namespace {

/// Four entries side by side.
typedef double Four __attribute__((vector_size(32)));

// Linear maps of a pair (v[T], v[T | bit]): what each becomes, for one pair or four; and the same
// in two factors of each, its own and its neighbour's.

struct Covering {
  double silent = 0, speaks = 0, both = silent + speaks;
  explicit Covering(const OneBit& one) : silent(one.silent), speaks(one.speaks) {}

  template <class Entry>
  [[gnu::always_inline]] void operator()(Entry& low, Entry& high) const {
    high = speaks * low + both * high;
    low = silent * low;
  }
  double low_own() const { return silent; }
  double low_other() const { return 0; }
  double high_own() const { return both; }
  double high_other() const { return speaks; }
};

struct CoveringTransposed : Covering {
  using Covering::Covering;

  template <class Entry>
  [[gnu::always_inline]] void operator()(Entry& low, Entry& high) const {
    low = silent * low + speaks * high;
    high = both * high;
  }
  double low_other() const { return speaks; }
  double high_other() const { return 0; }
};

struct Closing {
  double open = 0, closed = 0;

  template <class Entry>
  [[gnu::always_inline]] void operator()(Entry& low, Entry& high) const {
    low = open * low + closed * high;
    high = 0 * high;
  }
  double low_own() const { return open; }
  double low_other() const { return closed; }
  double high_own() const { return 0; }
  double high_other() const { return 0; }
};

struct ClosingTransposed : Closing {
  template <class Entry>
  [[gnu::always_inline]] void operator()(Entry& low, Entry& high) const {
    high = closed * low;
    low = open * low;
  }
  double low_other() const { return 0; }
  double high_other() const { return closed; }
};

/// Where bit is below the width of a vector, its neighbours come from a shuffle. Adding 0 times the
/// neighbour changes no bit of a finite sum of non-negative terms.
template <int kBit>
[[gnu::always_inline]] inline void shuffled(double* to, const double* from, std::size_t size,
                                            const Four& own, const Four& other) {
  for (std::size_t t = 0; t < size; t += 4) {
    Four v, sum;
    std::memcpy(&v, from + t, sizeof v);
    sum = own * v + other * __builtin_shufflevector(v, v, kBit, kBit ^ 1, kBit ^ 2, kBit ^ 3);
    std::memcpy(to + t, &sum, sizeof sum);
  }
}

template <class Map>
[[gnu::always_inline]] inline void in_fours(double* to, const double* from, std::size_t size,
                                            std::size_t bit, const Map& map) {
  for (std::size_t block = 0; block < size; block += 2 * bit) {
    for (std::size_t t = block; t < block + bit; t += 4) {
      Four low, high;
      std::memcpy(&low, from + t, sizeof low);
      std::memcpy(&high, from + t + bit, sizeof high);
      map(low, high);
      std::memcpy(to + t, &low, sizeof low);
      std::memcpy(to + t + bit, &high, sizeof high);
    }
  }
}

/// to = the map of `from`, which is `to` itself or does not overlap it. Always inlined, so that it
/// gets the widest instructions of its caller.
template <class Map>
[[gnu::always_inline]] inline void each_pair(double* to, const double* from, std::size_t size,
                                             std::size_t bit, const Map& m) {
  if (bit == 1 && size >= 4) {
    const double low = m.low_own(), high = m.high_own();
    shuffled<1>(to, from, size, Four{low, high, low, high},
                Four{m.low_other(), m.high_other(), m.low_other(), m.high_other()});
  } else if (bit == 2) {
    const double low = m.low_own(), high = m.high_own();
    shuffled<2>(to, from, size, Four{low, low, high, high},
                Four{m.low_other(), m.low_other(), m.high_other(), m.high_other()});
  } else if (bit == 4) {  // a length that the compiler knows
    in_fours(to, from, size, 4, m);
  } else if (bit == 1) {
    double low = from[0], high = from[1];
    m(low, high);
    to[0] = low;
    to[1] = high;
  } else {
    in_fours(to, from, size, bit, m);
  }
}

template <class Map>
[[gnu::always_inline]] inline void cover_in_turn(double* to, const double* from, std::size_t size,
                                                 const OneBit* ones, std::size_t count) {
  each_pair(to, from, size, ones[0].bit, Map(ones[0]));
  for (std::size_t i = 1; i < count; ++i) each_pair(to, to, size, ones[i].bit, Map(ones[i]));
}

}  // namespace

TICKOVER_WIDE void cover(double* v, std::size_t size, const OneBit& one) {
  each_pair(v, v, size, one.bit, Covering(one));
}

TICKOVER_WIDE void cover_transposed(double* u, std::size_t size, const OneBit& one) {
  each_pair(u, u, size, one.bit, CoveringTransposed(one));
}

TICKOVER_WIDE void cover_all(double* to, const double* from, std::size_t size, const OneBit* ones,
                             std::size_t count) {
  cover_in_turn<Covering>(to, from, size, ones, count);
}

TICKOVER_WIDE void cover_all_transposed(double* to, const double* from, std::size_t size,
                                        const OneBit* ones, std::size_t count) {
  cover_in_turn<CoveringTransposed>(to, from, size, ones, count);
}

TICKOVER_WIDE void close(double* v, std::size_t size, std::uint32_t bit, double open,
                         double closed) {
  each_pair(v, v, size, bit, Closing{open, closed});
}

TICKOVER_WIDE void close_transposed(double* u, std::size_t size, std::uint32_t bit, double open,
                                    double closed) {
  each_pair(u, u, size, bit, ClosingTransposed{{open, closed}});
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

double inner_covered(const double* a, const double* b, std::size_t size, std::uint32_t bit) {
  double sum = 0;
  for (std::size_t block = 0; block < size; block += std::size_t{2} * bit) {
    for (std::size_t t = block; t < block + bit; ++t) sum += (a[t] + a[t + bit]) * b[t + bit];
  }
  return sum;
}

}  // namespace tickover::belief
