/// @file
/// Fuel: petrol with ethanol, by composition.
#pragma once

#include "engine/foundation/units.hpp"

namespace tickover {

/// Of dry air, by volume.
constexpr double kOxygenInAir = 0.2095;

/// A fuel C H_h O_o: atoms of hydrogen and oxygen per atom of carbon, and density at 15 degC.
struct Fuel {
  double hydrogen_per_carbon;
  double oxygen_per_carbon;
  Density density;
};

/// Petrol without oxygenates: CH1.85, 745 kg/m3. Source: mean of Heywood, Internal Combustion
/// Engine Fundamentals (1988), table D.4 (CH1.85 to CH1.87, from memory) and of the density range
/// 720 to 775 kg/m3 of EN 228.
inline constexpr Fuel kPetrol{1.85, 0.0, Density(745.0)};

/// Ethanol C2H5OH, 789 kg/m3 at 20 degC (CRC Handbook of Chemistry and Physics, from memory).
inline constexpr Fuel kEthanol{3.0, 0.5, Density(789.0)};

/// The petrol that in-service emission rules put into the lambda equation: 1.7261 and 0.0175.
/// Source: Directive 98/69/EC and OIML R 99 (from memory). Their rules say no density; petrol's.
inline constexpr Fuel kRegulationPetrol{1.7261, 0.0175, Density(745.0)};

/// `petrol` with ethanol as share of the volume before mixing; volumes are taken to add up.
/// Range    0 to 85 % ethanol. Failure: InputError (data) outside.
/// Source   atoms and masses counted; atomic weights of IUPAC 2021 (C 12.011, H 1.008, O 15.999).
Fuel petrol_with_ethanol(Fraction ethanol, const Fuel& petrol = kPetrol);

/// Moles of oxygen molecules that burn one mole of carbon atoms of the fuel: 1 + h/4 - o/2.
/// Range    h 0 to 4, o 0 to 1. Failure: InputError (data) outside.
double oxygen_demand(const Fuel& fuel);

/// Mass of dry air that burns unit mass of fuel completely: 14.57 for kPetrol, 9.00 for kEthanol.
/// Range    as oxygen_demand. Failure: InputError (data) outside.
/// Source   atom balance; air of 28.9647 g/mol with 20.95 % O2 by volume (ISO 2533, rounded).
double stoichiometric_air_fuel_ratio(const Fuel& fuel);

/// Lambda on `now` over lambda on `set`, carburettor untouched: 1.0389 from petrol to E10. The jet
/// passes mass as sqrt(density), the air is unchanged, the demand for air is the fuel's. Viscosity,
/// evaporation and heat of vaporisation are left out.
/// Range    as oxygen_demand; densities 600 to 1000 kg/m3. Failure: InputError (data) outside.
/// Source   Bernoulli's law at the jet and atom balance.
double fuel_change_lambda_factor(const Fuel& set, const Fuel& now);

}  // namespace tickover
