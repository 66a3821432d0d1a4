#include "engine/gas/delivery.hpp"

#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr ValidRange kPower{"power", 0.5, 250.0, "kW"};
constexpr ValidRange kConsumption{"specific consumption", 200.0, 800.0, "g/kWh"};
constexpr ValidRange kCaught{"volume caught", 1.0, 5000.0, "ml"};
constexpr ValidRange kTime{"time", 1.0, 3600.0, "s"};
constexpr ValidRange kGiven{"flow given", 0.0, 20000.0, "ml/min"};
constexpr ValidRange kWanted{"flow wanted", 1.0, 20000.0, "ml/min"};

}  // namespace

VolumeFlow fuel_wanted(Power power, SpecificConsumption consumption, Density fuel) {
  require_within(power, kPower);
  require_within(consumption, kConsumption);
  require_within(fuel, kFuelDensity);
  return VolumeFlow(power.value * consumption.value / fuel.value);
}

VolumeFlow measured_flow(Volume caught, Time time) {
  require_within(caught, kCaught);
  require_within(time, kTime);
  return VolumeFlow(caught.value / time.value);
}

double delivery_ratio(VolumeFlow given, VolumeFlow wanted) {
  require_within(given, kGiven);
  require_within(wanted, kWanted);
  return given / wanted;
}

}  // namespace tickover
