#include "engine/gas/atmosphere.hpp"

#include <cmath>

#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr double kSeaLevelTemperature = 288.15;  // K, ISO 2533
constexpr double kSeaLevelPressure = 101325.0;   // Pa, ISO 2533
constexpr double kLapse = 0.0065;                // K/m, ISO 2533
constexpr double kVapourGasConstant = 461.52;    // J/(kg K): 8.314463 / 0.01801528
constexpr double kEarthRadius = 6356766.0;       // m, U.S. Standard Atmosphere 1976
constexpr double kExponent = kStandardGravity / (kDryAirGasConstant * kLapse);

constexpr double kSeaLevelDensity = kSeaLevelPressure / (kDryAirGasConstant * kSeaLevelTemperature);

constexpr ValidRange kAltitude{"altitude", -5.0, 11.0, "km"};
constexpr ValidRange kHeight{"height", -5.0, 11.1, "km"};
constexpr ValidRange kPressure{"air pressure", 20.0, 120.0, "kPa"};
constexpr ValidRange kReported{"pressure at sea level", 87.0, 108.5, "kPa"};
constexpr ValidRange kVapourTemperature{"temperature of moist air", -45.0, 60.0, "degC"};
constexpr ValidRange kHumidity{"relative humidity", 0.0, 100.0, "%"};
constexpr ValidRange kDensity{"air density", 0.3639, 1.9306, "kg/m3"};

/// Zero in dry air, whatever its temperature.
Pressure vapour_pressure(const Air& air) {
  if (air.humidity.value == 0.0) return Pressure(0.0);
  return air.humidity.value * saturation_pressure(air.temperature);
}

double gas_density(double pressure, double gas_constant, Temperature temperature) {
  return pressure / (gas_constant * temperature.value);
}

Density dry_part(const Air& air) {
  const Pressure dry = air.pressure - vapour_pressure(air);
  return Density(gas_density(dry.value, kDryAirGasConstant, air.temperature));
}

/// Altitude in the standard atmosphere at which that pressure reigns.
Length pressure_altitude(Pressure pressure) {
  const double ratio = std::pow(pressure.value / kSeaLevelPressure, 1.0 / kExponent);
  return Length(kSeaLevelTemperature / kLapse * (1.0 - ratio));
}

}  // namespace

Air standard_air(Length altitude) {
  require_within(altitude, kAltitude);
  const double temperature = kSeaLevelTemperature - kLapse * altitude.value;
  const double ratio = temperature / kSeaLevelTemperature;
  return {Pressure(kSeaLevelPressure * std::pow(ratio, kExponent)), Temperature(temperature)};
}

Length geopotential_altitude(Length height) {
  require_within(height, kHeight);
  return Length(kEarthRadius * height.value / (kEarthRadius + height.value));
}

Pressure pressure_at(Length altitude, Pressure at_sea_level) {
  require_within(at_sea_level, kReported);
  return standard_air(altitude + pressure_altitude(at_sea_level)).pressure;
}

Pressure reduced_to_sea_level(Pressure here, Length altitude) {
  require_within(here, kPressure);
  return standard_air(pressure_altitude(here) - altitude).pressure;
}

Pressure saturation_pressure(Temperature temperature) {
  require_within(temperature, kVapourTemperature);
  const double celsius = temperature.value - 273.15;
  return Pressure(611.2 * std::exp(17.62 * celsius / (243.12 + celsius)));
}

Density air_density(const Air& air) {
  require_within(air.pressure, kPressure);
  require_within(air.temperature, kTemperature);
  require_within(air.humidity, kHumidity);
  const double vapour = vapour_pressure(air).value;
  return dry_part(air) + Density(gas_density(vapour, kVapourGasConstant, air.temperature));
}

double dry_share(const Air& air) {
  const Density moist = air_density(air);
  return dry_part(air) / moist;
}

double relative_density(const Air& air) { return air_density(air).value / kSeaLevelDensity; }

Length density_altitude(Density density) {
  require_within(density, kDensity);
  const double ratio = std::pow(density.value / kSeaLevelDensity, 1.0 / (kExponent - 1.0));
  return Length(kSeaLevelTemperature / kLapse * (1.0 - ratio));
}

double fixed_jet_lambda_factor(const Air& set, const Air& now) {
  const double dry = dry_share(now) / dry_share(set);
  return dry * std::sqrt(air_density(now) / air_density(set));
}

double jet_area_factor(const Air& set, const Air& now) { return fixed_jet_lambda_factor(set, now); }

}  // namespace tickover
