/// @file
/// Unmetered air: what a hole behind the carburettor does to the mixture, and what hole would.
#pragma once

#include "engine/gas/engine_air.hpp"

namespace tickover {

/// What a leak into the intake of one cylinder does at one operating point. Fuel is taken as
/// unchanged: the carburettor does not see the leak's air.
struct LeakEffect {
  MassFlow leak;
  double share_of_cylinder;       ///< leak over the air metered for the leaking cylinder
  double share_of_engine;         ///< leak over the air metered for the whole engine
  double cylinder_lambda_factor;  ///< lambda of the leaking cylinder over lambda without leak
  double engine_lambda_factor;    ///< the same over the mixed exhaust, or with a common manifold
  bool choked;                    ///< the hole passes no more, however deep the vacuum
};

/// Effect of `hole` at an operating point given without the leak. First order: the leak's own
/// effect on manifold pressure and speed is neglected, which overstates holes above about a third
/// of the air.
/// Range    lambda of the cylinder up to threefold, as leak_area; else as air_flow and
///          engine_air_flow. Failure: InputError (data) outside.
/// Source   mass balance: lambda is total air over the same fuel.
LeakEffect leak_effect(const Orifice& hole, const Engine& engine, const OperatingPoint& point,
                       const Air& outside);

/// The hole that explains the lambda of one cylinder rising by `lambda_factor`, inverse of
/// leak_effect. Range: factor 1 to 3. Failure: InputError (data) outside, or without vacuum.
Area leak_area(double lambda_factor, double discharge_coefficient, const Engine& engine,
               const OperatingPoint& point, const Air& outside);

/// Idle speed with unmetered air in one cylinder of `cylinders`, first order, at fixed throttle:
/// the work wanted per cycle to turn the engine over is constant, and the leaking cylinder gives
/// more of it as its air grows, as far as it has fuel to burn with it: up to lambda 1, and not at
/// all when its mixture is lean already. The others have theirs unchanged. An upper bound: friction
/// that grows with speed, and misfire, make it less. Where all draw from one manifold, give the
/// share of the engine's air and one cylinder. Range    idle 300 to 3000 rpm, share of the
/// cylinder's air 0 to 2, 1 to 8 cylinders, lambda 0.6
///          to 1.5. Failure: InputError (data) outside.
/// Source   own first-order derivation. Idle rises by 25 to 50 rpm when a slightly rich mixture is
///          leaned through its best: FAA-H-8083-32, volume 1, on idle mixture.
Frequency idle_speed_with_leak(Frequency idle, double share_of_cylinder, int cylinders,
                               double lambda);

}  // namespace tickover
