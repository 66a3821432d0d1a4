#include "engine/gas/leak.hpp"

#include <algorithm>

#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr ValidRange kFactor{"factor by which the hole raises lambda", 1.0, 3.0, "1"};
constexpr ValidRange kIdle{"idle speed", 300.0, 3000.0, "rpm"};
constexpr ValidRange kShare{"leak as share of the cylinder's air", 0.0, 2.0, "1"};
constexpr ValidRange kLambda{"lambda", 0.6, 1.5, "1"};

}  // namespace

LeakEffect leak_effect(const Orifice& hole, const Engine& engine, const OperatingPoint& point,
                       const Air& outside) {
  const MassFlow metered = engine_air_flow(engine, point, outside);
  const MassFlow leak = air_flow(hole, outside, point.manifold);
  const double of_engine = leak / metered, of_cylinder = of_engine * engine.cylinders;
  require_within(1.0 + of_cylinder, kFactor);
  const bool choked = point.manifold / outside.pressure <= critical_pressure_ratio();
  return {leak, of_cylinder, of_engine, 1.0 + of_cylinder, 1.0 + of_engine, choked};
}

Area leak_area(double lambda_factor, double discharge_coefficient, const Engine& engine,
               const OperatingPoint& point, const Air& outside) {
  require_within(lambda_factor, kFactor);
  const MassFlow per_cylinder = (1.0 / engine.cylinders) * engine_air_flow(engine, point, outside);
  const MassFlow leak = (lambda_factor - 1.0) * per_cylinder;
  return orifice_area(leak, discharge_coefficient, outside, point.manifold);
}

Frequency idle_speed_with_leak(Frequency idle, double share_of_cylinder, int cylinders,
                               double lambda) {
  require_within(idle, kIdle);
  require_within(share_of_cylinder, kShare);
  require_within(cylinders, kCylinders);
  require_within(lambda, kLambda);
  const double burnable = std::max(1.0, 1.0 / lambda) - 1.0;
  return (1.0 + std::min(share_of_cylinder, burnable) / cylinders) * idle;
}

}  // namespace tickover
