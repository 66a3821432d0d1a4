#include "engine/gas/exhaust.hpp"

#include <algorithm>

#include "engine/foundation/error.hpp"
#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr double kWaterGas = 3.5;

constexpr ValidRange kMonoxide{"CO", 0.0, 16.0, "%"};
constexpr ValidRange kDioxide{"CO2", 0.0, 20.0, "%"};
constexpr ValidRange kOxygenRead{"O2", 0.0, 21.0, "%"};
constexpr ValidRange kHydrocarbon{"carbon in HC", 0.0, 12.0, "%"};
constexpr ValidRange kNitric{"NO", 0.0, 1.0, "%"};
constexpr ValidRange kSum{"the sum of all gases", 0.0, 100.0, "%"};
constexpr double kLeastBurnt = 0.01;
constexpr ValidRange kResolution{"lambda resolution", 0.0, 0.2, "1"};

Fraction unburnt_carbon(const ExhaustGas& gas) {
  return static_cast<double>(gas.scale) * gas.hydrocarbons;
}

Fraction burnt_carbon(const ExhaustGas& gas) { return gas.carbon_monoxide + gas.carbon_dioxide; }

Fraction measured(const ExhaustGas& gas) {
  return burnt_carbon(gas) + gas.oxygen + gas.hydrocarbons + gas.nitric_oxide;
}

void require_gas(const ExhaustGas& gas) {
  require_within(gas.carbon_monoxide, kMonoxide);
  require_within(gas.carbon_dioxide, kDioxide);
  require_within(gas.oxygen, kOxygenRead);
  require_within(unburnt_carbon(gas), kHydrocarbon);
  require_within(gas.nitric_oxide, kNitric);
  require_within(measured(gas), kSum);
  if (burnt_carbon(gas).value >= kLeastBurnt) return;
  throw InputError(InputFault::data, {}, "CO and CO2 together are below 1 %: this is air",
                   "put the probe at least 30 cm into the exhaust of a running engine");
}

/// Share of the burnt fuel's hydrogen that left as water: 3.5 / (3.5 + CO/CO2).
double water_share(const ExhaustGas& gas) {
  const double dioxide = kWaterGas * gas.carbon_dioxide.value;
  return dioxide / (dioxide + gas.carbon_monoxide.value);
}

/// Moles of O2 that the air brought, per mole of dry gas: what is found, less the fuel's own.
double oxygen_brought(const ExhaustGas& gas, const Fuel& fuel) {
  const double in_carbon = gas.carbon_dioxide.value + gas.carbon_monoxide.value / 2.0;
  const double in_water = fuel.hydrogen_per_carbon / 4.0 * water_share(gas);
  const double from_fuel = fuel.oxygen_per_carbon / 2.0;
  return in_carbon + gas.oxygen.value + gas.nitric_oxide.value / 2.0 +
         (in_water - from_fuel) * burnt_carbon(gas).value;
}

double lambda_of(const ExhaustGas& gas, const Fuel& fuel) {
  const double carbon = (burnt_carbon(gas) + unburnt_carbon(gas)).value;
  return oxygen_brought(gas, fuel) / (oxygen_demand(fuel) * carbon);
}

/// O2 that need not have come from outside: unburnt fuel leaves its share of oxygen unburnt too.
Fraction explained_oxygen(const ExhaustGas& gas, const Fuel& fuel) {
  return std::min(gas.oxygen, oxygen_demand(fuel) * unburnt_carbon(gas));
}

/// Air that would bring the oxygen not `explained`; what has burnt cannot be air.
Fraction outside_air(const ExhaustGas& gas, Fraction explained) {
  const Fraction air((gas.oxygen - explained).value / kOxygenInAir);
  return std::min(air, Fraction(1.0) - burnt_carbon(gas));
}

/// Dry gas that the oxygen balance predicts per mole of sample.
double predicted_sum(const ExhaustGas& gas, const Fuel& fuel) {
  const double nitrogen = oxygen_brought(gas, fuel) * (1.0 - kOxygenInAir) / kOxygenInAir;
  const double hydrogen =
      fuel.hydrogen_per_carbon / 2.0 * (1.0 - water_share(gas)) * burnt_carbon(gas).value;
  return measured(gas).value + hydrogen + nitrogen - gas.nitric_oxide.value / 2.0;
}

}  // namespace

double exhaust_lambda(const ExhaustGas& gas, const Fuel& fuel) {
  require_gas(gas);
  return lambda_of(gas, fuel);
}

ExhaustCheck check_exhaust(const ExhaustGas& gas, const Fuel& fuel) {
  const double lambda = exhaust_lambda(gas, fuel);
  const Fraction explained = explained_oxygen(gas, fuel);
  const Fraction air = outside_air(gas, explained);
  ExhaustGas undiluted = gas;
  undiluted.oxygen = explained;
  const Fraction dioxide = (1.0 / (1.0 - air.value)) * gas.carbon_dioxide;
  return {lambda, lambda_of(undiluted, fuel), air, dioxide, predicted_sum(gas, fuel)};
}

bool lean_reading_doubtful(const ExhaustCheck& check, double resolution) {
  require_within(resolution, kResolution);
  return check.lambda > 1.0 + resolution && check.diluted_lambda < 1.0 - resolution;
}

}  // namespace tickover
