/// @file
/// Random numbers that are the same on every machine. The mixing is that of SplitMix64 (Steele, Lea
/// & Flood, OOPSLA 2014).
#pragma once

#include <cstdint>

namespace tickover {

/// 64 bits that look unlike `state` and unlike those of any state near it.
inline std::uint64_t mixed(std::uint64_t state) {
  state += 0x9e3779b97f4a7c15u;
  state = (state ^ (state >> 30)) * 0xbf58476d1ce4e5b9u;
  state = (state ^ (state >> 27)) * 0x94d049bb133111ebu;
  return state ^ (state >> 31);
}

/// The middle of one of 2^53 equal parts of the unit interval: above 0 and below 1.
inline double unit(std::uint64_t bits) { return (static_cast<double>(bits >> 11) + 0.5) * 0x1p-53; }

/// One number after the other.
class RandomStream {
 public:
  explicit RandomStream(std::uint64_t seed) : state_(mixed(seed)) {}
  double next() { return unit(mixed(state_++)); }

 private:
  std::uint64_t state_;
};

}  // namespace tickover
