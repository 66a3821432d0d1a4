/// @file
/// The refusal of values outside a formula's range. Inside gas only.
#pragma once

#include <string_view>

#include "engine/foundation/units.hpp"

namespace tickover {

/// The range in which a formula holds, both ends in it, with the name and unit that errors show.
struct ValidRange {
  std::string_view name;
  double low, high;
  std::string_view unit;
};

// Ranges that more than one formula has.
inline constexpr ValidRange kAirDensity{"air density", 0.3, 2.0, "kg/m3"};
inline constexpr ValidRange kCoefficient{"discharge coefficient", 0.01, 1.0, "1"};
inline constexpr ValidRange kCylinders{"number of cylinders", 1.0, 8.0, "1"};
inline constexpr ValidRange kFuelDensity{"fuel density", 600.0, 1000.0, "kg/m3"};
inline constexpr ValidRange kSignal{"signal", 1.0, 60000.0, "Pa"};
inline constexpr ValidRange kTemperature{"air temperature", -60.0, 60.0, "degC"};

/// Throws InputError (data) "manifold pressure 3 kPa is outside the range of this formula", with
/// the range as hint, unless low <= value <= high. A value that is not a number is outside.
void require_within(const Quantity& value, const ValidRange& range);

template <Dimension D>
void require_within(Si<D> value, const ValidRange& range) {
  require_within(quantity(value), range);
}

inline void require_within(double number, const ValidRange& range) {
  const bool plain = range.unit == "1";  // nothing to convert, most often nothing to say
  if (plain && number >= range.low && number <= range.high) return;
  require_within(Quantity{number, Dimension::number}, range);
}

}  // namespace tickover
