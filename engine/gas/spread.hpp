/// @file
/// How far the cylinders of one engine lie apart.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "engine/foundation/units.hpp"

namespace tickover {

/// Lowest and highest of the readings, one per cylinder.
struct Spread {
  Pressure lowest, highest;
  std::size_t lowest_at, highest_at;  ///< their places, counted from 0; the first of equals
  Pressure difference;                ///< highest less lowest
  double lowest_over_highest;         ///< 1 when all are equal; 1 too when all are zero
};

/// Spread of compression or of vacuum over the cylinders.
/// Range    2 to 8 readings of 0 to 3000 kPa. Failure: InputError (data) outside.
Spread spread_of(const std::vector<Pressure>& readings);

/// The one cylinder that stands apart from all others.
struct OddCylinder {
  std::size_t at;   ///< its place, counted from 0
  Pressure off_by;  ///< its reading less the middle between the others' ends; negative: below them
};

/// The cylinder without which the spread is smallest, when it stands off the others by at least 2.5
/// times the mean gap between them. None when all are equal or scattered, when they lie apart half
/// and half, and of two cylinders, of which nobody can say which is odd.
/// Range, failure   as spread_of.
/// Source   own rule.
std::optional<OddCylinder> odd_cylinder(const std::vector<Pressure>& readings);

/// One pressure difference in the units that gauges and manuals use.
struct GaugeUnits {
  double kilopascal;
  double millimetre_mercury;
  double centimetre_mercury;
  double inch_mercury;
};

/// Range: any. Source: conventional mercury, see units.hpp.
GaugeUnits in_gauge_units(Pressure difference);

}  // namespace tickover
