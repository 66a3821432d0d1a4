/// @file
/// Air through a hole: compressible flow, choked at the critical pressure ratio.
#pragma once

#include "engine/gas/atmosphere.hpp"

namespace tickover {

/// Ratio of specific heats of air, taken as constant. ISO 2533:1975, table 1.
inline constexpr double kAirHeatRatio = 1.4;

/// A hole as the flow sees it.
struct Orifice {
  Area area;
  double discharge_coefficient = 0.65;  ///< sharp-edged hole 0.60-0.65, well rounded 0.9 and more
};

Area circle_area(Length diameter);
Length circle_diameter(Area area);

/// Downstream over upstream pressure at which air reaches the speed of sound: 0.5283. Below it the
/// flow no longer grows. Source: (2 / (k + 1)) ^ (k / (k - 1)), any text on gas dynamics.
double critical_pressure_ratio();

/// Mass flow of air from rest at `upstream` through the orifice into absolute pressure
/// `downstream`. Humidity enters through the density upstream.
///   Cd A p/sqrt(R T) sqrt(2k/(k-1) (r^(2/k) - r^((k+1)/k))),  r = max(downstream/p, critical)
/// Range    area 0 to 0.01 m2, coefficient above 0 to 1, downstream 1 Pa up to the upstream
///          pressure; air as air_density. Failure: InputError (data) outside.
/// Source   isentropic flow of an ideal gas with discharge coefficient: Heywood, Internal
///          Combustion Engine Fundamentals (1988), appendix C (from memory).
MassFlow air_flow(const Orifice& orifice, const Air& upstream, Pressure downstream);

/// The same for gas of absolute pressure, temperature of the air, up to 2000 kPa: test gear.
MassFlow compressed_air_flow(const Orifice& orifice, Pressure upstream, Temperature temperature,
                             Pressure downstream);

/// The hole that passes `flow`: inverse of air_flow in the area.
/// Range    flow 0 to 1 kg/s, downstream below upstream; else as air_flow.
Area orifice_area(MassFlow flow, double discharge_coefficient, const Air& upstream,
                  Pressure downstream);

}  // namespace tickover
