/// @file
/// Air: published tables, the textbook's altitude exercise, and the hydrostatic equation integrated
/// step by step.
#include "engine/gas/atmosphere.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/foundation/error.hpp"

namespace tickover::gas_atmosphere_test {
namespace {

using Catch::Contains;

Air air_of(double kilopascal, double celsius, double humidity = 0.0) {
  return {Pressure(1e3 * kilopascal), Temperature(273.15 + celsius), Fraction(humidity)};
}

/// Pressure at `altitude` by the hydrostatic equation dp/dh = -g p / (R T), fourth-order
/// Runge-Kutta in 10 m steps; shares no formula with the code.
double integrated_pressure(double altitude) {
  const auto slope = [](double h, double p) {
    return -9.80665 * p / (287.05287 * (288.15 - 0.0065 * h));
  };
  const double step = 10.0;
  double p = 101325.0;
  for (double h = 0.0; h < altitude - step / 2; h += step) {
    const double a = slope(h, p);
    const double b = slope(h + step / 2, p + step / 2 * a);
    const double c = slope(h + step / 2, p + step / 2 * b);
    const double d = slope(h + step, p + step * c);
    p += step / 6 * (a + 2 * b + 2 * c + d);
  }
  return p;
}

}  // namespace

TEST_CASE("the standard atmosphere has the printed rows", "[gas][published]") {
  struct Row {
    double altitude, kelvin, pascal, density;
  };
  // ISO 2533:1975 and U.S. Standard Atmosphere 1976, geopotential altitude.
  const Row row = GENERATE(values<Row>({{0, 288.15, 101325, 1.2250},
                                        {1000, 281.65, 89874.6, 1.1116},
                                        {2000, 275.15, 79495.2, 1.0065},
                                        {3000, 268.65, 70108.5, 0.90912},
                                        {4000, 262.15, 61640.2, 0.81913},
                                        {5000, 255.65, 54019.9, 0.73612},
                                        {11000, 216.65, 22632.0, 0.36392}}));
  CAPTURE(row.altitude);
  const Air air = standard_air(Length(row.altitude));
  CHECK(air.temperature.value == Approx(row.kelvin).epsilon(0).margin(0.005));
  CHECK(air.pressure.value == Approx(row.pascal).epsilon(0).margin(0.06));
  CHECK(air_density(air).value ==
        Approx(row.density).epsilon(0).margin(row.density < 1 ? 5.1e-6 : 5.1e-5));
}

TEST_CASE("heights on a map are geometric", "[gas][published]") {
  struct Row {
    double height, kelvin, hectopascal, density, lambda;
  };
  // Recomputed from the defining equations of the same standards at geometric altitude.
  const Row row = GENERATE(values<Row>({{500, 284.90, 954.61, 1.1673, 0.9762},
                                        {1000, 281.65, 898.76, 1.1117, 0.9526},
                                        {1500, 278.40, 845.60, 1.0581, 0.9294},
                                        {2000, 275.15, 795.01, 1.0066, 0.9065},
                                        {2500, 271.91, 746.92, 0.9570, 0.8838},
                                        {3000, 268.66, 701.21, 0.9093, 0.8615}}));
  CAPTURE(row.height);
  const Air air = standard_air(geopotential_altitude(Length(row.height)));
  CHECK(air.temperature.value == Approx(row.kelvin).epsilon(0).margin(0.0051));
  CHECK(air.pressure.value == Approx(100 * row.hectopascal).epsilon(0).margin(0.51));
  CHECK(air_density(air).value == Approx(row.density).epsilon(0).margin(5.1e-5));
  CHECK(fixed_jet_lambda_factor(standard_air(Length(0)), air) ==
        Approx(row.lambda).epsilon(0).margin(5.1e-5));
}

TEST_CASE("eleven kilometres are 10981 geopotential metres", "[gas][published]") {
  // U.S. Standard Atmosphere 1976, table 1.
  CHECK(geopotential_altitude(Length(11000)).value == Approx(10981).epsilon(0).margin(0.05));
}

TEST_CASE("pressure obeys the hydrostatic equation", "[gas][independent]") {
  const double altitude = GENERATE(100.0, 1500.0, 4000.0, 11000.0);
  CHECK(standard_air(Length(altitude)).pressure.value ==
        Approx(integrated_pressure(altitude)).epsilon(1e-10));
}

TEST_CASE("a fixed jet is richer at altitude", "[gas][published]") {
  const Air sea = standard_air(Length(0));
  // Heywood 1988, altitude compensation (from memory): 5.0 %, 10.3 %, 16.1 % richer.
  CHECK(1 / fixed_jet_lambda_factor(sea, standard_air(Length(1000))) - 1 ==
        Approx(0.050).epsilon(0).margin(5e-4));
  CHECK(1 / fixed_jet_lambda_factor(sea, standard_air(Length(2000))) - 1 ==
        Approx(0.103).epsilon(0).margin(5e-4));
  CHECK(1 / fixed_jet_lambda_factor(sea, standard_air(Length(3000))) - 1 ==
        Approx(0.161).epsilon(0).margin(5.5e-4));
}

TEST_CASE("the textbook's air-fuel ratio at altitude", "[gas][published]") {
  struct Row {
    double altitude, ratio;
  };
  // Scilab-TBC-Uploads book 443, chapter 8: 15 at sea level, T = 300 K - 6.5 K/km,
  // p = 10^(-h/19200 m) bar.
  const Row row = GENERATE(
      values<Row>({{0, 15.00}, {1000, 14.28}, {2000, 13.60}, {3000, 12.96}, {5000, 11.77}}));
  const auto air = [](double h) {
    return Air{Pressure(1e5 * std::pow(10.0, -h / 19200)), Temperature(300 - 0.0065 * h)};
  };
  CHECK(15 * fixed_jet_lambda_factor(air(0), air(row.altitude)) ==
        Approx(row.ratio).epsilon(0).margin(0.0051));
}

TEST_CASE("cold air leans a fixed jet", "[gas][published]") {
  const auto factor = [](double set, double now) {
    return fixed_jet_lambda_factor(air_of(101.325, set), air_of(101.325, now));
  };
  CHECK(factor(20, 0) == Approx(1.036).epsilon(0).margin(5e-4));  // sqrt of the temperature ratio
  CHECK(factor(30, 0) == Approx(1.0535).epsilon(0).margin(5e-5));
  CHECK(factor(20, 35) == Approx(0.9754).epsilon(0).margin(5e-5));
  CHECK(jet_area_factor(air_of(101.325, 20), air_of(101.325, 0)) == factor(20, 0));
}

TEST_CASE("saturated vapour agrees with the steam tables", "[gas][published]") {
  struct Row {
    double celsius, pascal;
  };
  // CRC Handbook of Chemistry and Physics, vapour pressure of water (from memory).
  const Row row = GENERATE(values<Row>(
      {{0, 611.2}, {10, 1228.2}, {20, 2339.3}, {30, 4247.0}, {40, 7384.9}, {50, 12352}}));
  CAPTURE(row.celsius);
  CHECK(saturation_pressure(Temperature(273.15 + row.celsius)).value ==
        Approx(row.pascal).epsilon(0.004));
}

TEST_CASE("moist air agrees with the formula of the metrologists", "[gas][published]") {
  // CIPM-2007 (Picard and others 2008): 1.1993 kg/m3 at 20 degC, 101325 Pa, 50 % (from memory).
  CHECK(air_density(air_of(101.325, 20, 0.5)).value == Approx(1.1993).epsilon(5e-4));
  CHECK(relative_density(standard_air(Length(0))) == Approx(1.0).epsilon(1e-12));
  CHECK(dry_share(air_of(101.325, 20)) == 1.0);
  // Mixing ratio of saturated air at 30 degC: 27.2 g per kg of dry air (psychrometric chart).
  CHECK(1 / dry_share(air_of(101.325, 30, 1.0)) - 1 == Approx(0.0272).epsilon(0).margin(1.5e-4));
}

TEST_CASE("vapour takes the place of oxygen", "[gas][independent]") {
  // By hand at 30 degC, saturated: 4233.7 Pa of vapour leave 1.11573 kg/m3 of dry air and make up
  // 1.14599 with it, against 1.16438 dry: sqrt(1.14599 / 1.16438) * 1.11573 / 1.14599.
  CHECK(fixed_jet_lambda_factor(air_of(101.325, 30), air_of(101.325, 30, 1.0)) ==
        Approx(0.96587).epsilon(2e-5));
}

TEST_CASE("humid air enriches a fixed jet", "[gas][property]") {
  const double humidity = GENERATE(0.0, 0.2, 0.5, 0.8);
  const auto factor = [](double h) {
    return fixed_jet_lambda_factor(air_of(101.325, 30), air_of(101.325, 30, h));
  };
  CHECK(factor(humidity + 0.2) < factor(humidity));
  CHECK(air_density(air_of(101.325, 30, humidity + 0.2)) <
        air_density(air_of(101.325, 30, humidity)));
}

TEST_CASE("density altitude is the inverse of the atmosphere", "[gas][property]") {
  const double altitude = GENERATE(0.0, 250.0, 1234.5, 6000.0, 11000.0);
  const Density density = air_density(standard_air(Length(altitude)));
  CHECK(density_altitude(density).value == Approx(altitude).epsilon(0).margin(1e-6));
  // Pilots' rule: 120 ft for each degree above standard; 35 degC at the sea is 20 above (from
  // memory).
  CHECK(density_altitude(air_density(air_of(101.325, 35))).value ==
        Approx(20 * 120 * 0.3048).epsilon(0.06));
}

TEST_CASE("the weather report's pressure is that of the place reduced to sea level", "[gas]") {
  CHECK(pressure_at(Length(0), Pressure(98e3)).value == Approx(98e3).epsilon(1e-12));
  CHECK(pressure_at(Length(1000), Pressure(101325)).value == Approx(89874.6).epsilon(1e-6));
  const double here = GENERATE(80e3, 85e3, 90e3), altitude = GENERATE(0.0, 300.0, 1200.0);
  const Pressure reduced = reduced_to_sea_level(Pressure(here), Length(altitude));
  if (reduced.value < 87e3 || reduced.value > 108.5e3) return;
  CHECK(pressure_at(Length(altitude), reduced).value == Approx(here).epsilon(1e-12));
  // Altimeter setting in hPa, Smithsonian Meteorological Tables (1963), p. 269 (from memory); it
  // takes off 0.3 hPa for the barometer's height and rounds the temperature.
  const double n = 0.190284, p = here / 100 - 0.3;
  const double setting =
      p * std::pow(1 + std::pow(1013.25, n) * 0.0065 / 288 * altitude / std::pow(p, n), 1 / n);
  CHECK(reduced.value / 100 == Approx(setting).epsilon(0).margin(0.5));
}

TEST_CASE("air outside the formulas is refused", "[gas][errors]") {
  CHECK_THROWS_WITH(standard_air(Length(11001)),
                    Contains("altitude 11.001 km is outside") && Contains("from -5 km to 11 km"));
  CHECK_THROWS_AS(standard_air(Length(std::nan(""))), InputError);
  CHECK_THROWS_AS(geopotential_altitude(Length(-6000)), InputError);
  CHECK_THROWS_AS(pressure_at(Length(1000), Pressure(80e3)), InputError);
  CHECK_THROWS_AS(reduced_to_sea_level(Pressure(1e3), Length(1000)), InputError);
  CHECK_THROWS_WITH(air_density(air_of(14.7, 20)), Contains("air pressure 14.7 kPa"));
  CHECK_THROWS_WITH(air_density(air_of(101, 61)), Contains("air temperature 61 degC"));
  CHECK_THROWS_WITH(air_density(air_of(101, 20, 1.2)), Contains("relative humidity 120 %"));
  CHECK_THROWS_AS(air_density(air_of(101, 20, -0.1)), InputError);
  CHECK_THROWS_AS(air_density(air_of(101, -50, 0.5)), InputError);
  CHECK_NOTHROW(air_density(air_of(101, -50)));
  CHECK_THROWS_AS(density_altitude(Density(2.5)), InputError);
  try {
    standard_air(Length(12000));
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::data);
  }
}

}  // namespace tickover::gas_atmosphere_test
