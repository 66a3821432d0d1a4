#include "engine/gas/throttle.hpp"

#include <cmath>

#include "engine/foundation/error.hpp"
#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr ValidRange kVacuum{"vacuum at idle", 1.0, 90.0, "kPa"};
constexpr ValidRange kOpenArea{"throttle area wide open", 10.0, 10000.0, "mm2"};
constexpr ValidRange kFillingRatio{"filling at idle over filling wide open", 0.0, 0.999, "1"};
constexpr ValidRange kSpeedRatio{"speed at idle over speed wide open", 0.0, 0.999, "1"};
constexpr ValidRange kIdleOpening{"throttle opening at idle", 0.0, 0.999, "1"};

/// Halving the interval so often leaves less than rounding of it.
constexpr int kOpeningHalvings = 52;

void require_line(const ThrottleLine& line, const Air& outside) {
  require_within(outside.pressure - line.idle.manifold, kVacuum);
  require_within(line.open.area, kOpenArea);
  require_within(line.idle.filling / line.open_filling, kFillingRatio);
  require_within(line.idle.speed / line.open_speed, kSpeedRatio);
}

InputError too_narrow(const ThrottleLine& line) {
  return InputError(
      InputFault::data, {},
      "throttles of " + format_quantity(quantity(line.open.area), "mm2", 4) +
          " are too narrow for the speed wide open",
      "their vacuum would be deeper there than at idle: give a larger bore or a lower "
      "speed");
}

Frequency speed_at(const ThrottleLine& line, double opening, double at_idle) {
  const double way = 1.0 - std::log(opening) / std::log(at_idle);
  return std::pow(line.open_speed / line.idle.speed, way) * line.idle.speed;
}

/// Filling at a vacuum given as multiple of the idle's.
Fraction filling_at(const ThrottleLine& line, double vacuum) {
  return line.open_filling - vacuum * (line.open_filling - line.idle.filling);
}

OperatingPoint point_with(const ThrottleLine& line, Frequency speed, double vacuum,
                          const Air& outside) {
  const Pressure manifold = outside.pressure - vacuum * (outside.pressure - line.idle.manifold);
  return {speed, manifold, filling_at(line, vacuum)};
}

}  // namespace

double idle_opening(const Engine& engine, const ThrottleLine& line, const Air& outside) {
  require_line(line, outside);
  const MassFlow air = engine_air_flow(engine, line.idle, outside);
  const Area idle = orifice_area(air, line.open.discharge_coefficient, outside, line.idle.manifold);
  const double opening = idle / line.open.area;
  require_within(opening, kIdleOpening);
  if (line.open_speed / line.idle.speed * opening > 1.0) throw too_narrow(line);
  return opening;
}

OperatingPoint point_at_opening(const Engine& engine, const ThrottleLine& line, double opening,
                                const Air& outside) {
  const double at_idle = idle_opening(engine, line, outside);
  require_within(opening, {"throttle opening", at_idle, 1.0, "1"});
  const Frequency speed = speed_at(line, opening, at_idle);
  Orifice throttle = line.open;
  throttle.area = opening * line.open.area;
  double low = 0.0, high = 1.0;  // vacuum, as multiple of the idle's
  for (int i = 0; i < kOpeningHalvings; ++i) {
    const double vacuum = (low + high) / 2.0;
    const OperatingPoint point = point_with(line, speed, vacuum, outside);
    const bool throttle_passes_more =
        air_flow(throttle, outside, point.manifold) > engine_air_flow(engine, point, outside);
    (throttle_passes_more ? high : low) = vacuum;
  }
  return point_with(line, speed, low, outside);
}

}  // namespace tickover
