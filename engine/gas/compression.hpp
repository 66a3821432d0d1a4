/// @file
/// Compression and leak-down, brought to sea level so that the machine's data sheet applies.
#pragma once

#include "engine/gas/atmosphere.hpp"

namespace tickover {

/// The compression a gauge would show at standard sea-level pressure: the cylinder multiplies the
/// absolute pressure it starts from, so gauge readings go with the outside pressure.
/// Range    reading 0 to 3000 kPa (gauge), outside 50 to 110 kPa. Failure: InputError (data)
/// outside. Source   polytropic compression, p V^n constant with n and leakage unchanged; the
/// altitude factors
///          printed with compression gauges are the same ratio (from memory).
Pressure compression_at_sea_level(Pressure reading, Pressure outside);

/// Leak-down by a tester that feeds the cylinder through an orifice: pressures as its two gauges
/// show.
struct LeakDown {
  Pressure supply;  ///< before the orifice, gauge
  Pressure held;    ///< behind it, in the cylinder, gauge
};

/// Share of the supply that is lost: 1 - held / supply; 0.25 at 60 of 80 psi.
/// Range    supply 50 to 1000 kPa, held 0 to supply. Failure: InputError (data) outside.
/// Source   definition; FAA Advisory Circular 43.13-1B, paragraph 8-14, uses the same gauges.
Fraction leak_down_loss(const LeakDown& reading);

/// The cylinder's leak over the tester's orifice, as areas of equal discharge coefficient: the same
/// at every altitude and supply. Range: as leak_down_loss, held above 0; outside 50 to 110 kPa.
/// Source   continuity of compressible flow through both, see orifice.hpp; air at one temperature.
double leak_over_orifice(const LeakDown& reading, Pressure outside);

/// The loss that the same leak would show at standard sea-level pressure and the same supply.
/// Range, failure, source   as leak_over_orifice.
Fraction leak_down_at_sea_level(const LeakDown& reading, Pressure outside);

}  // namespace tickover
