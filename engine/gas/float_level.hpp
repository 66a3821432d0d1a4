/// @file
/// Fuel level in the float bowl: from the float's height to the mixture.
#pragma once

#include <optional>

#include "engine/foundation/units.hpp"

namespace tickover {

/// Distances from the float's hinge pin, along the arm.
struct FloatGeometry {
  Length hinge_to_measuring_point;  ///< where the float height is read
  Length hinge_to_float_centre;     ///< where the float's buoyancy acts
};

/// How far the fuel level rises (negative: falls) when the float height, read with the carburettor
/// tilted until the tang just touches the pin of the float needle, grows by `height_change`. A
/// greater height means the float hangs lower when the needle closes: a lower level. Range    both
/// distances 5 to 80 mm; change up to 0.3 of the distance to the measuring point, so
///          that arc and chord agree within 2 %. Failure: InputError (data) outside.
/// Source   lever ratio at the hinge, small angle.
Length fuel_level_change(Length height_change, const FloatGeometry& geometry);

/// Pressure of a column of fuel: density times gravity times height; 7.3 Pa per mm of petrol.
/// Negative for a negative height. Range: -100 to 100 mm, 600 to 1000 kg/m3. Failure: InputError
/// (data).
Pressure fuel_head(Length height, Density fuel);

/// A circuit that draws fuel from the bowl up to its outlet.
struct FuelCircuit {
  Pressure signal;    ///< depression at the outlet against the bowl's vent
  Length lip_height;  ///< outlet above fuel level with the level right; negative when below it
  Density fuel;
};

/// What a changed level does to a circuit.
struct LevelEffect {
  Pressure head_before, head_after;     ///< signal left to move fuel, after lifting it to the lip
  std::optional<double> lambda_factor;  ///< lambda after over before, above 1 leaner; none when the
                                        ///< fuel no longer reaches the lip
};

/// Effect on the mixture of the level rising by `level_change` (negative: falling), air unchanged:
/// sqrt(head before / head after). Large where the signal is small, as when the main circuit has
/// just begun to flow; small at idle, whose signal is large, unless the idle circuit draws through
/// a bleed. Range    signal 1 Pa to 60 kPa and enough to lift the fuel with the level right; lip
/// -20 to 50 mm;
///          change up to 30 mm. Failure: InputError (data) outside.
/// Source   Bernoulli's law with hydrostatic head; textbook exercise 8.5 as program 8.5 of
///          Scilab-TBC-Uploads, book 443.
LevelEffect level_effect(const FuelCircuit& circuit, Length level_change);

/// Air speed in the venturi at which fuel first reaches the lip: sqrt(2 fuel/air g lip).
/// Range    lip 0 to 50 mm, air 0.3 to 2 kg/m3. Failure: InputError (data) outside.
/// Source   as level_effect.
Velocity first_flow_speed(const FuelCircuit& circuit, Density air);

}  // namespace tickover
