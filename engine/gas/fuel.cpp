#include "engine/gas/fuel.hpp"

#include <cmath>

#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr double kCarbon = 12.011, kHydrogen = 1.008, kOxygen = 15.999;  // g/mol
constexpr double kAirMass = 28.9647;                                     // g/mol

constexpr ValidRange kEthanolShare{"ethanol by volume", 0.0, 85.0, "%"};
constexpr ValidRange kHydrogenRatio{"hydrogen per carbon atom", 0.0, 4.0, "1"};
constexpr ValidRange kOxygenRatio{"oxygen per carbon atom", 0.0, 1.0, "1"};

void require_fuel(const Fuel& fuel) {
  require_within(fuel.hydrogen_per_carbon, kHydrogenRatio);
  require_within(fuel.oxygen_per_carbon, kOxygenRatio);
  require_within(fuel.density, kFuelDensity);
}

/// Mass of fuel that holds one mole of carbon [g/mol].
double mass_per_carbon(const Fuel& fuel) {
  return kCarbon + kHydrogen * fuel.hydrogen_per_carbon + kOxygen * fuel.oxygen_per_carbon;
}

/// Carbon that `share` of a unit volume brings, in moles per unit volume.
double carbon_of(const Fuel& fuel, double share) {
  return share * fuel.density.value / mass_per_carbon(fuel);
}

}  // namespace

Fuel petrol_with_ethanol(Fraction ethanol, const Fuel& petrol) {
  require_within(ethanol, kEthanolShare);
  require_fuel(petrol);
  const double share = ethanol.value;
  const double from_ethanol = carbon_of(kEthanol, share);
  const double from_petrol = carbon_of(petrol, 1.0 - share);
  const auto mean = [&](double of_petrol, double of_ethanol) {
    return (from_petrol * of_petrol + from_ethanol * of_ethanol) / (from_petrol + from_ethanol);
  };
  return {mean(petrol.hydrogen_per_carbon, kEthanol.hydrogen_per_carbon),
          mean(petrol.oxygen_per_carbon, kEthanol.oxygen_per_carbon),
          (1.0 - share) * petrol.density + share * kEthanol.density};
}

double oxygen_demand(const Fuel& fuel) {
  require_fuel(fuel);
  return 1.0 + fuel.hydrogen_per_carbon / 4.0 - fuel.oxygen_per_carbon / 2.0;
}

double stoichiometric_air_fuel_ratio(const Fuel& fuel) {
  return oxygen_demand(fuel) / kOxygenInAir * kAirMass / mass_per_carbon(fuel);
}

double fuel_change_lambda_factor(const Fuel& set, const Fuel& now) {
  const double demand = stoichiometric_air_fuel_ratio(set) / stoichiometric_air_fuel_ratio(now);
  return demand * std::sqrt(set.density / now.density);
}

}  // namespace tickover
