/// @file
/// Comparison of a computed probability with its reference.
#pragma once

#include <cmath>
#include <limits>
#include <ostream>

namespace tickover::test {

/// Equal to the reference within 1e-12, and within 1e-12 of its size where it is not tiny.
struct Near {
  long double reference;
};

inline bool operator==(double got, const Near& near) {
  constexpr long double kTolerance = 1e-12L;
  constexpr long double kTiny = 1e-9L;
  const long double size = std::fabs(near.reference);
  return std::fabs(got - near.reference) <= kTolerance * (size < kTiny ? 1 : std::fmin(size, 1.0L));
}

/// Equal logarithms: both minus infinity, or within 1e-12 of their size (of 1 when smaller).
struct NearLog {
  long double reference;
};

inline bool operator==(double got, const NearLog& near) {
  if (std::isinf(near.reference)) return std::isinf(got) && got < 0;
  return std::fabs(got - near.reference) <= 1e-12L * std::fmax(1.0L, std::fabs(near.reference));
}

inline std::ostream& operator<<(std::ostream& out, const Near& near) {
  const auto old = out.precision(std::numeric_limits<long double>::max_digits10);
  out << near.reference;
  out.precision(old);
  return out;
}

inline std::ostream& operator<<(std::ostream& out, const NearLog& near) {
  return out << Near{near.reference};
}

}  // namespace tickover::test
