/// @file
/// Fuel level: a table recomputed by hand, the textbook's exercise 8.5, and a float drawn to scale.
#include "engine/gas/float_level.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/foundation/error.hpp"
#include "engine/gas/jet.hpp"

namespace tickover::gas_float_level_test {
namespace {

using Catch::Contains;

Length mm(double millimetre) { return Length(1e-3 * millimetre); }

FuelCircuit circuit_of(double pascal, double lip = 6.0) {
  return {Pressure(pascal), mm(lip), Density(745)};
}

}  // namespace

TEST_CASE("a millimetre of petrol is 7.3 pascal", "[gas][published]") {
  CHECK(fuel_head(mm(1), Density(745)).value == Approx(7.3).epsilon(0).margin(0.051));
}

TEST_CASE("a low float leans where the signal is small", "[gas][published]") {
  struct Row {
    double signal, percent[4];
  };
  // Recomputed by hand: lip 6 mm above the level, level lower by 1, 2, 3 and 5 mm.
  const Row row = GENERATE(values<Row>({{150, {3.6, 7.7, 12.3, 23.5}},
                                        {300, {1.5, 3.0, 4.6, 8.0}},
                                        {600, {0.7, 1.3, 2.0, 3.5}},
                                        {1500, {0.3, 0.5, 0.8, 1.3}},
                                        {5000, {0.1, 0.1, 0.2, 0.4}}}));
  const double lower[4] = {1, 2, 3, 5};
  for (int i = 0; i < 4; ++i) {
    CAPTURE(row.signal, lower[i]);
    const LevelEffect effect = level_effect(circuit_of(row.signal), mm(-lower[i]));
    REQUIRE(effect.lambda_factor);
    CHECK(100 * (*effect.lambda_factor - 1) == Approx(row.percent[i]).epsilon(0).margin(0.06));
  }
}

TEST_CASE("the textbook's exercise 8.5", "[gas][published]") {
  // Scilab-TBC-Uploads book 443: venturi 20 mm (0.80), jet 1.14 mm (0.65), air 1.2, fuel 750 kg/m3,
  // lip 5 mm, depression 0.08 bar: 15.15 without lip, 15.19 with it, fuel starts at 7.83 m/s. The
  // program rounds its constants.
  const FuelCircuit circuit{Pressure(8000), mm(5), Density(750)};
  const auto ratio = [&](Pressure fuel_signal) {
    return elementary_air_fuel_ratio({mm(20), 0.80}, {mm(1.14), 0.65}, Density(1.2), Density(750),
                                     {Pressure(8000), fuel_signal});
  };
  CHECK(ratio(Pressure(8000)) == Approx(15.15).epsilon(0).margin(0.0051));
  CHECK(ratio(level_effect(circuit, mm(0)).head_before) == Approx(15.19).epsilon(0).margin(0.0051));
  CHECK(first_flow_speed(circuit, Density(1.2)).value == Approx(7.83).epsilon(0).margin(0.0051));
}

TEST_CASE("the jet's own flow gives the same lean shift", "[gas][independent]") {
  const double lower = GENERATE(-3.0, 0.5, 2.0, 4.0);
  const FuelCircuit circuit = circuit_of(250);
  const auto flow = [&](double lift) {
    return jet_flow({mm(1.0), 0.65}, Pressure(250 - 745 * 9.80665 * 1e-3 * lift), Density(745));
  };
  CHECK(*level_effect(circuit, mm(-lower)).lambda_factor ==
        Approx(flow(6) / flow(6 + lower)).epsilon(1e-12));
}

TEST_CASE("a level too low starves the circuit", "[gas]") {
  const LevelEffect effect = level_effect(circuit_of(60), mm(-5));
  CHECK_FALSE(effect.lambda_factor);
  CHECK(effect.head_after.value < 0);
  CHECK(level_effect(circuit_of(60), mm(0)).lambda_factor == 1.0);
  CHECK(*level_effect(circuit_of(60), mm(1)).lambda_factor < 1.0);
}

TEST_CASE("float height against level, drawn to scale", "[gas][independent]") {
  const double change = GENERATE(-3.0, -1.0, 0.5, 2.0, 4.0);
  const FloatGeometry geometry{mm(40), mm(28)};
  // The arm turns about its hinge until the measuring point has moved by the chord.
  const double angle = std::asin(change / 40);
  const double centre = -28 * std::sin(angle);
  const Length level = fuel_level_change(mm(change), geometry);
  CHECK(1e3 * level.value == Approx(centre).epsilon(1e-9));
  CHECK((level.value < 0) == (change > 0));
}

TEST_CASE("impossible floats are refused", "[gas][errors]") {
  CHECK_THROWS_WITH(fuel_level_change(mm(15), {mm(40), mm(28)}), Contains("0.375"));
  CHECK_THROWS_AS(fuel_level_change(mm(1), {mm(0), mm(28)}), InputError);
  CHECK_THROWS_WITH(level_effect(circuit_of(30), mm(-1)), Contains("does not lift the fuel"));
  CHECK_THROWS_AS(level_effect(circuit_of(-30), mm(-1)), InputError);
  CHECK_THROWS_AS(level_effect(circuit_of(300), mm(-31)), InputError);
  CHECK_THROWS_AS(fuel_head(mm(10), Density(0.745)), InputError);
  CHECK_THROWS_AS(first_flow_speed(circuit_of(300, -5), Density(1.2)), InputError);
}

}  // namespace tickover::gas_float_level_test
