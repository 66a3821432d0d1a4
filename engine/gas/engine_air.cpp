#include "engine/gas/engine_air.hpp"

#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr ValidRange kDisplacement{"displacement", 20.0, 3000.0, "ml"};
constexpr ValidRange kCylinders{"number of cylinders", 1.0, 8.0, "1"};
constexpr ValidRange kSpeed{"engine speed", 100.0, 20000.0, "rpm"};
constexpr ValidRange kFilling{"filling", 0.1, 130.0, "%"};
constexpr ValidRange kThrottleArea{"open area of the throttle", 0.01, 10000.0, "mm2"};

/// Halving the interval so often leaves less than rounding of it.
constexpr int kHalvings = 52;

}  // namespace

MassFlow engine_air_flow(const Engine& engine, const OperatingPoint& point, const Air& outside) {
  require_within(engine.displacement, kDisplacement);
  require_within(engine.cylinders, kCylinders);
  require_within(point.speed, kSpeed);
  require_within(point.filling, kFilling);
  const double volume_flow = engine.displacement.value * point.speed.value / 2.0;
  return MassFlow(volume_flow * point.filling.value * air_density(outside).value);
}

OperatingPoint throttled_point(const Engine& engine, const Throttled& running, const Air& outside) {
  require_within(running.throttle.area, kThrottleArea);
  const MassFlow open =
      engine_air_flow(engine, {running.speed, outside.pressure, running.open_filling}, outside);
  double low = 1.0 / outside.pressure.value, high = 1.0;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2.0;
    const bool throttle_passes_more =
        air_flow(running.throttle, outside, middle * outside.pressure) > middle * open;
    (throttle_passes_more ? low : high) = middle;
  }
  return {running.speed, low * outside.pressure, low * running.open_filling};
}

}  // namespace tickover
