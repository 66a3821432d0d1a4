/// @file
/// Air: the standard atmosphere, density, and what a fixed jet makes of it.
#pragma once

#include "engine/foundation/units.hpp"

namespace tickover {

/// Air as the engine breathes it. Pressure absolute; humidity relative, 0 to 1.
struct Air {
  Pressure pressure{101325.0};
  Temperature temperature{288.15};
  Fraction humidity{0.0};
};

/// Specific gas constant of dry air [J/(kg K)]. ISO 2533:1975, table 1.
inline constexpr double kDryAirGasConstant = 287.05287;

/// Standard acceleration of gravity [m/s2]. ISO 80000-3.
inline constexpr double kStandardGravity = 9.80665;

/// Dry air at `altitude` (geopotential) in the standard atmosphere.
/// Range    -5 to 11 km. Failure: InputError (data) outside.
/// Source   ISO 2533:1975 and U.S. Standard Atmosphere 1976, section 1.2: 288.15 K and 101325 Pa at
///          zero, 6.5 K less per km.
Air standard_air(Length altitude);

/// Geopotential altitude of a height above sea level as a map gives it (geometric).
/// Range    -5 to 11.1 km. Failure: InputError (data) outside.
/// Source   U.S. Standard Atmosphere 1976, equation 18, Earth radius 6356.766 km.
Length geopotential_altitude(Length height);

/// Pressure at `altitude` when the weather report gives `at_sea_level`: reports reduce what the
/// barometer shows to sea level by the standard atmosphere (altimeter setting, QNH).
/// Range    at_sea_level 87 to 108.5 kPa (the records on earth, rounded); the pressure altitude
/// that
///          both make together -5 to 11 km. Failure: InputError (data) outside.
/// Source   definition of the altimeter setting in the standard atmosphere, ISO 2533:1975.
Pressure pressure_at(Length altitude, Pressure at_sea_level);

/// What the weather report gives when a barometer at `altitude` shows `here`: inverse of
/// pressure_at. Range: 20 to 120 kPa; else as standard_air of the altitudes' difference.
Pressure reduced_to_sea_level(Pressure here, Length altitude);

/// Pressure of saturated vapour over water.
/// Range    -45 to 60 degC. Failure: InputError (data) outside.
/// Source   Sonntag, Zeitschrift fuer Meteorologie 70 (1990), Magnus form 611.2 Pa,
///          17.62, 243.12 K, as in the WMO guide to instruments, No. 8, annex 4.B (from memory);
///          within 0.4 % of the tables from 0 to 50 degC.
Pressure saturation_pressure(Temperature temperature);

/// Density of moist air as mixture of ideal gases.
/// Range    20 to 120 kPa, -60 to 60 degC (moist air from -45 degC), humidity 0 to 100 %.
/// Failure  InputError (data) outside.
/// Source   Dalton's law; vapour 461.52 J/(kg K). Within 0.05 % of the CIPM-2007 formula (Picard
///          and others, Metrologia 45, 2008), which allows for compressibility.
Density air_density(const Air& air);

/// Mass of dry air per mass of moist air, 0 to 1: the part that brings oxygen. As air_density.
double dry_share(const Air& air);

/// Density over that of standard air at sea level, 1.225 kg/m3. As air_density.
double relative_density(const Air& air);

/// Altitude in the standard atmosphere at which dry air is as dense.
/// Range    0.3639 to 1.9306 kg/m3 (11 to -5 km). Failure: InputError (data) outside.
/// Source   inverse of standard_air.
Length density_altitude(Density density);

/// Lambda now over lambda when set, carburettor untouched: sqrt(density now / density then), and
/// less oxygen when vapour has taken its place. Below 1 is richer: 0.9525 at 1000 m from sea level.
/// Holds for venturi and jet circuits; butterfly idle circuits follow it roughly. Float bowl vented
/// to the same air.
/// Range    as air_density. Failure: InputError (data) outside.
/// Source   air and fuel both flow as sqrt(density times signal): Heywood, Internal Combustion
///          Engine Fundamentals (1988), ch. 7 on altitude compensation (from memory).
double fixed_jet_lambda_factor(const Air& set, const Air& now);

/// Jet area now over jet area when set that gives the old lambda back: the same number, since fuel
/// must follow the oxygen. The diameter follows its square root.
double jet_area_factor(const Air& set, const Air& now);

}  // namespace tickover
