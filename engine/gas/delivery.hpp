/// @file
/// Fuel delivery: what the engine drinks at full power against what the tap gives.
#pragma once

#include "engine/foundation/units.hpp"

namespace tickover {

/// Fuel wanted at full power: power times specific consumption over density. 50 kW at 300 g/kWh and
/// 745 kg/m3 want 336 ml/min.
/// Range    0.5 to 250 kW, 200 to 800 g/kWh, 600 to 1000 kg/m3. Failure: InputError (data) outside.
/// Source   definition of brake specific fuel consumption.
VolumeFlow fuel_wanted(Power power, SpecificConsumption consumption, Density fuel);

/// Flow from what a measuring cup caught. Range: 1 to 5000 ml, 1 s to 1 h.
/// Failure  InputError (data) outside.
VolumeFlow measured_flow(Volume caught, Time time);

/// What the tap gives over what is wanted: below 1 the bowl runs dry at full power.
/// Range    both above 0 (given may be 0) to 20 l/min. Failure: InputError (data) outside.
double delivery_ratio(VolumeFlow given, VolumeFlow wanted);

}  // namespace tickover
