#include "engine/belief/coverage.hpp"

#include <algorithm>

namespace tickover::belief {
namespace {

/// The usual case, one bit: nothing with `silent`, the bit with `speaks`.
struct OneBit {
  double silent = 0, speaks = 0;
  std::size_t bit = 0;
};

bool as_one_bit(const Covers& alternatives, OneBit& one) {
  for (const Cover& alternative : alternatives) {
    const std::size_t mask = alternative.mask;
    if (mask == 0) {
      one.silent += alternative.weight;
      continue;
    }
    const bool single = (mask & (mask - 1)) == 0;
    if (!single || (one.bit != 0 && one.bit != mask)) return false;
    one.bit = mask;
    one.speaks += alternative.weight;
  }
  return one.bit != 0;
}

/// Where the closed bits sit: the kept index spread out with zeros at `positions` (ascending).
std::size_t spread(std::size_t kept, const std::vector<std::size_t>& ascending) {
  for (const std::size_t position : ascending) {
    const std::size_t below = kept & ((std::size_t{1} << position) - 1);
    kept = ((kept >> position) << (position + 1)) | below;
  }
  return kept;
}

std::size_t scatter(std::size_t combination, const std::vector<std::size_t>& positions) {
  std::size_t index = 0;
  for (std::size_t i = 0; i < positions.size(); ++i) {
    if (combination >> i & 1) index |= std::size_t{1} << positions[i];
  }
  return index;
}

}  // namespace

void cover(Coverage& v, const Covers& alternatives) {
  OneBit one;
  if (as_one_bit(alternatives, one)) {
    const double both = one.silent + one.speaks;
    for (std::size_t block = 0; block < v.size(); block += 2 * one.bit) {
      for (std::size_t t = block; t < block + one.bit; ++t) {
        v[t + one.bit] = both * v[t + one.bit] + one.speaks * v[t];
        v[t] *= one.silent;
      }
    }
    return;
  }
  // from the fullest set down: what flows into a set comes from smaller ones, not yet moved
  for (std::size_t t = v.size(); t-- > 0;) {
    const double mass = v[t];
    v[t] = 0;
    for (const Cover& alternative : alternatives)
      v[t | alternative.mask] += alternative.weight * mass;
  }
}

void cover_transposed(Coverage& u, const Covers& alternatives) {
  OneBit one;
  if (as_one_bit(alternatives, one)) {
    const double both = one.silent + one.speaks;
    for (std::size_t block = 0; block < u.size(); block += 2 * one.bit) {
      for (std::size_t t = block; t < block + one.bit; ++t) {
        u[t] = one.silent * u[t] + one.speaks * u[t + one.bit];
        u[t + one.bit] *= both;
      }
    }
    return;
  }
  for (std::size_t t = 0; t < u.size(); ++t) {
    double sum = 0;
    for (const Cover& alternative : alternatives)
      sum += alternative.weight * u[t | alternative.mask];
    u[t] = sum;
  }
}

void open_bits(Coverage& v, std::size_t bits) { v.resize(v.size() << bits, 0.0); }

void open_bits_transposed(Coverage& u, std::size_t bits) { u.resize(u.size() >> bits); }

void close_bits(Coverage& v, const std::vector<std::size_t>& positions,
                const std::vector<double>& table) {
  std::vector<std::size_t> ascending = positions;
  std::sort(ascending.begin(), ascending.end());
  const std::size_t size = v.size() >> positions.size();
  for (std::size_t kept = 0; kept < size; ++kept) {
    const std::size_t base = spread(kept, ascending);
    double sum = 0;
    for (std::size_t c = 0; c < table.size(); ++c)
      sum += table[c] * v[base | scatter(c, positions)];
    v[kept] = sum;  // base >= kept, so nothing still wanted is overwritten
  }
  v.resize(size);
}

void close_bits_transposed(Coverage& u, const std::vector<std::size_t>& positions,
                           const std::vector<double>& table) {
  std::vector<std::size_t> ascending = positions;
  std::sort(ascending.begin(), ascending.end());
  Coverage wide(u.size() << positions.size(), 0.0);
  for (std::size_t kept = 0; kept < u.size(); ++kept) {
    const std::size_t base = spread(kept, ascending);
    for (std::size_t c = 0; c < table.size(); ++c) {
      wide[base | scatter(c, positions)] = table[c] * u[kept];
    }
  }
  u = std::move(wide);
}

}  // namespace tickover::belief
