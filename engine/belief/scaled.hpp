/// @file
/// Non-negative numbers beyond the range of double. Inside belief only.
#pragma once

#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>

namespace tickover::belief {

/// Vectors whose largest entry is below this are scaled up, well before the smallest normal double
/// (2e-308) comes near.
constexpr double kRescaleBelow = 1e-60;

/// mantissa * 2^exponent. Powers of two, so that scaling rounds nothing.
struct Scaled {
  double mantissa = 0;
  int exponent = 0;

  /// Natural log; -infinity for 0.
  double log() const {
    if (!(mantissa > 0)) return -std::numeric_limits<double>::infinity();
    return std::log(mantissa) + exponent * std::numbers::ln2;
  }
};

/// The same number with a mantissa in [0.5, 1), or 0. As std::frexp, which for the usual number is
/// a matter of its exponent bits alone.
inline Scaled normal(Scaled x) {
  constexpr std::uint64_t kExponent = std::uint64_t{0x7ff} << 52;
  const auto bits = std::bit_cast<std::uint64_t>(x.mantissa);
  const auto exponent = static_cast<int>((bits & kExponent) >> 52);
  if (x.mantissa > 0 && exponent > 0 && exponent < 0x7ff) {
    constexpr int kHalf = 1022;  // exponent bits of numbers in [0.5, 1)
    const std::uint64_t half = (bits & ~kExponent) | std::uint64_t{kHalf} << 52;
    return {std::bit_cast<double>(half), x.exponent + exponent - kHalf};
  }
  int shift = 0;
  x.mantissa = std::frexp(x.mantissa, &shift);
  return {x.mantissa, x.mantissa > 0 ? x.exponent + shift : 0};
}

inline Scaled operator*(const Scaled& a, const Scaled& b) {
  return normal({a.mantissa * b.mantissa, a.exponent + b.exponent});
}

inline Scaled operator*(const Scaled& a, double b) { return normal({a.mantissa * b, a.exponent}); }

inline Scaled operator+(const Scaled& a, const Scaled& b) {
  if (!(a.mantissa > 0)) return b;
  if (!(b.mantissa > 0)) return a;
  if (a.exponent < b.exponent) return b + a;
  return normal({a.mantissa + std::ldexp(b.mantissa, b.exponent - a.exponent), a.exponent});
}

/// a / b as a plain number; 0 when either is 0.
inline double ratio(const Scaled& a, const Scaled& b) {
  if (!(a.mantissa > 0) || !(b.mantissa > 0)) return 0;
  return std::ldexp(a.mantissa / b.mantissa, a.exponent - b.exponent);
}

}  // namespace tickover::belief
