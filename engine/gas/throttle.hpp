/// @file
/// Part throttle, between two conditions that are known: idle as the gauge shows it, and wide open.
#pragma once

#include "engine/gas/engine_air.hpp"

namespace tickover {

/// One engine from the idle stop to wide open.
struct ThrottleLine {
  OperatingPoint idle;    ///< as measured; manifold pressure is the mean the gauge shows
  Frequency open_speed;   ///< speed reached wide open
  Fraction open_filling;  ///< filling wide open
  Orifice open;           ///< all throttles together, wide open
};

/// Open area at idle over open area wide open: the throttle passes the idle air under idle vacuum.
/// Range    vacuum 1 to 90 kPa, idle filling and speed below those wide open, throttles 10 mm2 to
///          100 cm2 and so wide that their vacuum is less wide open than at idle; else as
///          engine_air_flow and air_flow.
/// Failure  InputError (data) outside.
/// Source   continuity.
double idle_opening(const Engine& engine, const ThrottleLine& line, const Air& outside);

/// The running condition at `opening`, the open share of the throttle's area. Speed rises from idle
/// to wide open as a power of the opening; filling falls in proportion to the vacuum, through both
/// known conditions; the vacuum is where the throttle passes what the cylinders take. At
/// idle_opening it is `idle` again.
/// Range    opening from idle_opening to 1; else as idle_opening. Failure: InputError (data)
/// outside.
/// Source   own interpolation for showing how an effect changes with the throttle; continuity, by
///          bisection.
OperatingPoint point_at_opening(const Engine& engine, const ThrottleLine& line, double opening,
                                const Air& outside);

}  // namespace tickover
