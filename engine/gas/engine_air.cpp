#include "engine/gas/engine_air.hpp"

#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr ValidRange kDisplacement{"displacement", 20.0, 3000.0, "ml"};
constexpr ValidRange kSpeed{"engine speed", 100.0, 20000.0, "rpm"};
constexpr ValidRange kFilling{"filling", 0.1, 130.0, "%"};

}  // namespace

MassFlow engine_air_flow(const Engine& engine, const OperatingPoint& point, const Air& outside) {
  require_within(engine.displacement, kDisplacement);
  require_within(engine.cylinders, kCylinders);
  require_within(point.speed, kSpeed);
  require_within(point.filling, kFilling);
  const double volume_flow = engine.displacement.value * point.speed.value / 2.0;
  return MassFlow(volume_flow * point.filling.value * air_density(outside).value);
}

}  // namespace tickover
