/// @file
/// The air an engine takes.
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

}  // namespace tickover
