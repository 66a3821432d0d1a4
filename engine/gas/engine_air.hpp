/// @file
/// The air an engine takes, and the manifold pressure that a throttle leaves it.
#pragma once

#include "engine/gas/orifice.hpp"

namespace tickover {

/// A four-stroke engine: swept volume of all its cylinders, and their number.
struct Engine {
  Volume displacement;
  int cylinders = 1;
};

/// One steady running condition. Filling is the air taken over what the swept volume would hold at
/// outside density (volumetric efficiency); manifold pressure is absolute and the mean over a
/// cycle.
struct OperatingPoint {
  Frequency speed;
  Pressure manifold;
  Fraction filling;
};

/// Air through the whole engine: displacement times half the speed times filling times density.
/// Range    20 to 3000 ml, 1 to 8 cylinders, 100 to 20000 rpm, filling above 0 to 130 %; air as
///          air_density. Failure: InputError (data) outside.
/// Source   definition of volumetric efficiency, four-stroke.
MassFlow engine_air_flow(const Engine& engine, const OperatingPoint& point, const Air& outside);

/// An engine held by its throttle at one speed.
struct Throttled {
  Orifice throttle;  ///< what all the engine's throttles leave open together
  Frequency speed;
  Fraction open_filling;  ///< filling of the same engine wide open at that speed
};

/// Where the engine settles: the manifold pressure at which the throttle passes what the cylinders
/// take. Quasi-steady means; single throttles pulsate about them. Filling falls in proportion to
/// manifold pressure, residual gas neglected.
/// Range    open area 0.01 mm2 to 100 cm2; else as engine_air_flow and air_flow.
/// Failure  InputError (data) outside.
/// Source   continuity; solved by bisection to the last digits.
OperatingPoint throttled_point(const Engine& engine, const Throttled& running, const Air& outside);

}  // namespace tickover
