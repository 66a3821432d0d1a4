/// @file
/// The physics a carburettor mechanic needs; the face of this folder. Knows only foundation.
///
/// Every function takes typed SI values, checks the range in which its formula holds and throws
/// InputError (data) outside it. Example: how far a 0.7 mm hole leans the idle of a 250 ml
/// cylinder.
///
///   const Engine engine{Volume(250e-6), 1};
///   const OperatingPoint idle{parse<Dimension::frequency>("1100 rpm"), Pressure(76e3),
///                             Fraction(0.22)};
///   const Orifice hole{circle_area(parse<Dimension::length>("0.7 mm")), 0.65};
///   const LeakEffect effect = leak_effect(hole, engine, idle, standard_air(Length(0)));
///   effect.cylinder_lambda_factor;  // 1.09: lambda 0.90 becomes 0.98
#pragma once

#include "engine/gas/atmosphere.hpp"   // IWYU pragma: export
#include "engine/gas/compression.hpp"  // IWYU pragma: export
#include "engine/gas/delivery.hpp"     // IWYU pragma: export
#include "engine/gas/engine_air.hpp"   // IWYU pragma: export
#include "engine/gas/exhaust.hpp"      // IWYU pragma: export
#include "engine/gas/float_level.hpp"  // IWYU pragma: export
#include "engine/gas/fuel.hpp"         // IWYU pragma: export
#include "engine/gas/jet.hpp"          // IWYU pragma: export
#include "engine/gas/leak.hpp"         // IWYU pragma: export
#include "engine/gas/orifice.hpp"      // IWYU pragma: export
#include "engine/gas/spread.hpp"       // IWYU pragma: export
#include "engine/gas/throttle.hpp"     // IWYU pragma: export
