/// @file
/// The one table of units. Inside foundation only: callers use units.hpp.
#pragma once

#include <span>
#include <string_view>

#include "engine/foundation/units.hpp"

namespace tickover {

/// One unit: value in SI = value * factor + offset. `names` are its spellings, parted by blanks;
/// the first is the one that lists and hints show.
struct Unit {
  std::string_view names;
  Dimension dimension;
  double factor;
  double offset = 0.0;
};

/// All units. Factors are exact by definition: SI Brochure (9th ed.) for the metric ones and the
/// degree Celsius; international yard and pound (1959: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg);
/// standard gravity 9.80665 m/s2; conventional mercury 13595.1 kg/m3 and water 1000 kg/m3 columns
/// (ISO 80000-4, NIST Special Publication 811, appendix B).
std::span<const Unit> unit_table();

}  // namespace tickover
