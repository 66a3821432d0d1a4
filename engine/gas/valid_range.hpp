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
