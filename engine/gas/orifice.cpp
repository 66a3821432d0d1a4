#include "engine/gas/orifice.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/foundation/error.hpp"
#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr double k = kAirHeatRatio;

constexpr ValidRange kDiameter{"hole diameter", 0.0, 112.0, "mm"};
constexpr ValidRange kArea{"hole area", 0.0, 10000.0, "mm2"};
constexpr ValidRange kFlow{"air flow", 0.0, 1.0, "kg/s"};
constexpr ValidRange kUpstream{"pressure before the hole", 1.0, 2000.0, "kPa"};

void require_downstream(Pressure downstream, Pressure upstream) {
  if (downstream.value >= 1.0 && downstream <= upstream) return;
  throw InputError(InputFault::data, {},
                   "pressure behind the hole, " + format_quantity(quantity(downstream), "kPa") +
                       ", should lie above zero and not above the pressure before it, " +
                       format_quantity(quantity(upstream), "kPa"),
                   "both are absolute: outside pressure less the vacuum");
}

/// sqrt(2k/(k-1) (r^(2/k) - r^((k+1)/k))) at the pressure ratio of the throat.
double flow_function(double pressure_ratio) {
  const double r = std::max(pressure_ratio, critical_pressure_ratio());
  return std::sqrt(2 * k / (k - 1) * (std::pow(r, 2 / k) - std::pow(r, (k + 1) / k)));
}

/// Mass flow per effective area [kg/(s m2)]: p/sqrt(R T) is sqrt(p times density).
double flux(Pressure upstream, double density, Pressure downstream) {
  return std::sqrt(upstream.value * density) * flow_function(downstream / upstream);
}

MassFlow flow_through(const Orifice& orifice, double flux) {
  require_within(orifice.area, kArea);
  require_within(orifice.discharge_coefficient, kCoefficient);
  return MassFlow(orifice.discharge_coefficient * orifice.area.value * flux);
}

}  // namespace

Area circle_area(Length diameter) {
  require_within(diameter, kDiameter);
  return Area(std::numbers::pi / 4 * diameter.value * diameter.value);
}

Length circle_diameter(Area area) {
  require_within(area, kArea);
  return Length(std::sqrt(4 / std::numbers::pi * area.value));
}

double critical_pressure_ratio() { return std::pow(2 / (k + 1), k / (k - 1)); }

MassFlow air_flow(const Orifice& orifice, const Air& upstream, Pressure downstream) {
  const double density = air_density(upstream).value;
  require_downstream(downstream, upstream.pressure);
  return flow_through(orifice, flux(upstream.pressure, density, downstream));
}

MassFlow compressed_air_flow(const Orifice& orifice, Pressure upstream, Temperature temperature,
                             Pressure downstream) {
  require_within(upstream, kUpstream);
  require_within(temperature, kTemperature);
  require_downstream(downstream, upstream);
  const double density = upstream.value / (kDryAirGasConstant * temperature.value);
  return flow_through(orifice, flux(upstream, density, downstream));
}

Area orifice_area(MassFlow flow, double discharge_coefficient, const Air& upstream,
                  Pressure downstream) {
  require_within(flow, kFlow);
  constexpr Area unit(1e-6);
  const MassFlow per_unit = air_flow({unit, discharge_coefficient}, upstream, downstream);
  if (per_unit.value > 0.0) return (flow / per_unit) * unit;
  throw InputError(InputFault::data, {}, "no air flows without a pressure difference",
                   "give a pressure behind the hole below the pressure before it");
}

}  // namespace tickover
