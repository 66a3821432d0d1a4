#include "engine/gas/float_level.hpp"

#include <cmath>

#include "engine/foundation/error.hpp"
#include "engine/gas/atmosphere.hpp"
#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr ValidRange kArm{"distance from the float's hinge", 5.0, 80.0, "mm"};
constexpr ValidRange kSwing{"change of float height over its arm", -0.3, 0.3, "1"};
constexpr ValidRange kColumn{"height of the fuel column", -100.0, 100.0, "mm"};
constexpr ValidRange kLip{"height of the outlet above the fuel", -20.0, 50.0, "mm"};
constexpr ValidRange kLipAbove{"height of the outlet above the fuel", 0.0, 50.0, "mm"};
constexpr ValidRange kLevelChange{"change of fuel level", -30.0, 30.0, "mm"};

/// Signal that is left when the fuel has been lifted by `lift`.
Pressure head_left(const FuelCircuit& circuit, Length lift) {
  return circuit.signal - fuel_head(lift, circuit.fuel);
}

InputError never_flows(const FuelCircuit& circuit) {
  const Pressure lift = fuel_head(circuit.lip_height, circuit.fuel);
  return InputError(InputFault::data, {},
                    "a signal of " + format_quantity(quantity(circuit.signal), "Pa") +
                        " does not lift the fuel to the outlet even at the right level",
                    "it takes more than " + format_quantity(quantity(lift), "Pa", 3));
}

}  // namespace

Length fuel_level_change(Length height_change, const FloatGeometry& geometry) {
  require_within(geometry.hinge_to_measuring_point, kArm);
  require_within(geometry.hinge_to_float_centre, kArm);
  require_within(height_change / geometry.hinge_to_measuring_point, kSwing);
  const double lever = geometry.hinge_to_float_centre / geometry.hinge_to_measuring_point;
  return -lever * height_change;
}

Pressure fuel_head(Length height, Density fuel) {
  require_within(height, kColumn);
  require_within(fuel, kFuelDensity);
  return Pressure(fuel.value * kStandardGravity * height.value);
}

LevelEffect level_effect(const FuelCircuit& circuit, Length level_change) {
  require_within(circuit.signal, kSignal);
  require_within(circuit.lip_height, kLip);
  require_within(level_change, kLevelChange);
  const Pressure before = head_left(circuit, circuit.lip_height);
  const Pressure after = head_left(circuit, circuit.lip_height - level_change);
  if (before.value <= 0.0) throw never_flows(circuit);
  if (after.value <= 0.0) return {before, after, std::nullopt};
  return {before, after, std::sqrt(before / after)};
}

Velocity first_flow_speed(const FuelCircuit& circuit, Density air) {
  require_within(circuit.lip_height, kLipAbove);
  require_within(air, kAirDensity);
  const Pressure lift = fuel_head(circuit.lip_height, circuit.fuel);
  return Velocity(std::sqrt(2.0 * lift.value / air.value));
}

}  // namespace tickover
