#include "cli/calc/outside_air.hpp"

#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

constexpr double kLeastReported = 94.0, kMostReported = 106.0;  // kPa; any but a great storm's

std::string kilopascals(Pressure pressure) { return format_quantity(quantity(pressure), "kPa", 4); }

Length altitude_of(const Inputs& inputs, const std::string& prefix) {
  const std::string name = prefix + "altitude";
  return inputs.given(name) ? inputs.value<Dimension::length>(name) : Length(0.0);
}

std::string place_of(Length altitude) { return format_quantity(quantity(altitude), "m", 4); }

/// The weather report's pressure taken for the barometer's is the usual slip.
void require_fitting(const std::string& name, Pressure here, Length altitude) {
  const Pressure reduced = reduced_to_sea_level(here, altitude);
  const double reported = in_unit(quantity(reduced), "kPa");
  if (reported >= kLeastReported && reported <= kMostReported) return;
  throw InputError(InputFault::usage, "--" + name,
                   kilopascals(here) + " is not the air pressure at " + place_of(altitude) +
                       ", which is about " + kilopascals(standard_air(altitude).pressure),
                   "the weather report's, which is reduced to sea level, goes to "
                   "--sea-level-pressure");
}

Pressure barometer(const Inputs& inputs, const std::string& prefix, Length altitude) {
  const std::string name = prefix + "pressure";
  const Pressure here = inputs.value<Dimension::pressure>(name);
  if (inputs.given(prefix + "altitude")) require_fitting(name, here, altitude);
  return here;
}

/// The pressure and where it comes from.
std::pair<Pressure, std::string> pressure_of(const Inputs& inputs, const std::string& prefix,
                                             Length altitude) {
  const std::string name = prefix + "pressure", reported = prefix + "sea-level-pressure";
  if (inputs.given(name) && inputs.given(reported)) {
    throw InputError(InputFault::usage, "--" + name, "given together with --" + reported,
                     "the barometer's reading at the place is enough");
  }
  if (inputs.given(name)) return {barometer(inputs, prefix, altitude), "as measured"};
  if (!inputs.given(reported)) {
    return {standard_air(altitude).pressure, "standard at " + place_of(altitude)};
  }
  return {pressure_at(altitude, inputs.value<Dimension::pressure>(reported)),
          "from the weather report, at " + place_of(altitude)};
}

}  // namespace

std::vector<Argument> air_arguments(const std::string& prefix, const std::string& where) {
  return {
      {prefix + "altitude", "m", -500, 6000, "height " + where + ", when no barometer is at hand"},
      {prefix + "pressure", "kPa", 45, 110, "air pressure as a barometer shows it " + where},
      {prefix + "sea-level-pressure", "kPa", kLeastReported, kMostReported,
       "air pressure as the weather report gives it, reduced to sea level"},
      {prefix + "temperature", "degC", -40, 55,
       "air temperature " + where + "; without it the standard one"},
      {prefix + "humidity", "%", 0, 100, "relative humidity " + where, "0 %"}};
}

OutsideAir outside_air(const Inputs& inputs, const std::string& prefix) {
  const Length altitude = altitude_of(inputs, prefix);
  const auto [pressure, origin] = pressure_of(inputs, prefix, altitude);
  const std::string name = prefix + "temperature";
  const bool measured = inputs.given(name);
  const Temperature temperature =
      measured ? inputs.value<Dimension::temperature>(name) : standard_air(altitude).temperature;
  return {{pressure, temperature, inputs.value<Dimension::fraction>(prefix + "humidity")},
          kilopascals(pressure) + " (" + origin + "), " +
              format_quantity(quantity(temperature), "degC", 3) + (measured ? "" : " (standard)")};
}

}  // namespace tickover::cli
