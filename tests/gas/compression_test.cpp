/// @file
/// Compression, leak-down, spread over the cylinders, and fuel delivery.
#include "engine/gas/compression.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/foundation/error.hpp"
#include "engine/gas/delivery.hpp"
#include "engine/gas/spread.hpp"

namespace tickover::gas_compression_test {
namespace {

using Catch::Contains;

constexpr Pressure kSeaLevel(101325);

LeakDown psi(double supply, double held) {
  return {parse<Dimension::pressure>(std::to_string(supply), "psi"),
          parse<Dimension::pressure>(std::to_string(held), "psi")};
}

/// Flow per area by the two textbook branches, for the balance at orifice and leak.
double branch_flux(double from, double to) {
  const double r = to / from;
  if (r <= 0.528282) return 0.0404184 * from;
  return from / std::sqrt(287.05287) *
         std::sqrt(7 * (std::pow(r, 2 / 1.4) - std::pow(r, 2.4 / 1.4)));
}

}  // namespace

TEST_CASE("compression at altitude is brought to sea level", "[gas][independent]") {
  // Compressing along p V^1.3 from outside pressure by a volume ratio of 7.5.
  const double altitude = GENERATE(0.0, 800.0, 2000.0, 3500.0);
  const Pressure outside = standard_air(Length(altitude)).pressure;
  const auto gauge = [](Pressure from) { return Pressure(from.value * (std::pow(7.5, 1.3) - 1)); };
  CHECK(compression_at_sea_level(gauge(outside), outside).value ==
        Approx(gauge(kSeaLevel).value).epsilon(1e-12));
}

TEST_CASE("altitude factors for compression gauges", "[gas][published]") {
  // Pressure ratio of ISO 2533 at 1000 m: 89874.6 / 101325 = 0.88699.
  CHECK(compression_at_sea_level(Pressure(900e3), Pressure(89874.6)).value ==
        Approx(900e3 / 0.88699).epsilon(1e-5));
}

TEST_CASE("60 of 80 psi is a loss of a quarter", "[gas][published]") {
  CHECK(leak_down_loss(psi(80, 60)).value == Approx(0.25).epsilon(1e-12));  // AC 43.13-1B, 8-14
  CHECK(leak_down_loss(psi(80, 80)).value == Approx(0.0).epsilon(0).margin(1e-15));
  CHECK(leak_down_loss(psi(80, 0)).value == 1.0);
}

TEST_CASE("the leak is the orifice times the flow balance", "[gas][independent]") {
  const double held = GENERATE(10.0, 40.0, 60.0, 76.0);
  const double psi_to_pa = 6894.757;
  const double supply = 80 * psi_to_pa + 101325, cylinder = held * psi_to_pa + 101325;
  CHECK(leak_over_orifice(psi(80, held), kSeaLevel) ==
        Approx(branch_flux(supply, cylinder) / branch_flux(cylinder, 101325)).epsilon(2e-4));
}

TEST_CASE("the same leak at another altitude", "[gas][property]") {
  const double held = GENERATE(20.0, 45.0, 60.0, 75.0);
  const LeakDown reading = psi(80, held);
  CHECK(leak_down_at_sea_level(reading, kSeaLevel).value ==
        Approx(leak_down_loss(reading).value).epsilon(1e-9));
  const Pressure mountain = standard_air(Length(2500)).pressure;
  const Fraction loss = leak_down_at_sea_level(reading, mountain);
  const LeakDown there{reading.supply, (1 - loss.value) * reading.supply};
  CHECK(leak_over_orifice(there, kSeaLevel) ==
        Approx(leak_over_orifice(reading, mountain)).epsilon(1e-9));
  CHECK(leak_over_orifice(psi(80, held - 5), kSeaLevel) >
        leak_over_orifice(psi(80, held), kSeaLevel));
}

TEST_CASE("spread over the cylinders", "[gas]") {
  const Spread spread = spread_of({Pressure(30e3), Pressure(26e3), Pressure(30e3), Pressure(28e3)});
  CHECK(spread.lowest == Pressure(26e3));
  CHECK(spread.lowest_at == 1);
  CHECK(spread.highest_at == 0);
  CHECK(spread.difference == Pressure(4e3));
  CHECK(spread.lowest_over_highest == Approx(26.0 / 30));
  CHECK(spread_of({Pressure(0), Pressure(0)}).lowest_over_highest == 1.0);
  const GaugeUnits units = in_gauge_units(spread.difference);
  CHECK(units.kilopascal == Approx(4.0));
  CHECK(units.millimetre_mercury == Approx(30.0025).epsilon(1e-5));
  CHECK(units.centimetre_mercury == Approx(3.00025).epsilon(1e-5));
  CHECK(units.inch_mercury == Approx(1.18120).epsilon(1e-5));
}

TEST_CASE("spread does not care for the order of cylinders", "[gas][property]") {
  std::vector<Pressure> readings{Pressure(9e5), Pressure(11e5), Pressure(8e5)};
  const Spread first = spread_of(readings);
  std::rotate(readings.begin(), readings.begin() + 1, readings.end());
  const Spread second = spread_of(readings);
  CHECK(first.difference == second.difference);
  CHECK(readings[second.lowest_at] == first.lowest);
}

TEST_CASE("fuel for full power", "[gas][published]") {
  const VolumeFlow wanted =
      fuel_wanted(parse<Dimension::power>("50 kW"),
                  parse<Dimension::specific_consumption>("300 g/kWh"), Density(745));
  // 15 kg/h, so 20.13 l/h, so 335.6 ml/min: by hand.
  CHECK(in_unit(quantity(wanted), "ml/min") == Approx(335.57).epsilon(0).margin(0.01));
  const VolumeFlow given = measured_flow(Volume(250e-6), Time(30));
  CHECK(in_unit(quantity(given), "ml/min") == Approx(500));
  CHECK(delivery_ratio(given, wanted) == Approx(1.49).epsilon(0).margin(0.001));
  CHECK(delivery_ratio(VolumeFlow(0), wanted) == 0.0);
}

TEST_CASE("impossible bench readings are refused", "[gas][errors]") {
  CHECK_THROWS_AS(compression_at_sea_level(Pressure(-1), kSeaLevel), InputError);
  CHECK_THROWS_WITH(compression_at_sea_level(Pressure(9e5), Pressure(14.7)),
                    Contains("outside pressure"));
  CHECK_THROWS_WITH(leak_down_loss(psi(80, 90)), Contains("held pressure") && Contains("at most"));
  CHECK_THROWS_AS(leak_over_orifice(psi(80, 0), kSeaLevel), InputError);
  CHECK_THROWS_WITH(spread_of({Pressure(1e5)}), Contains("number of readings 1"));
  CHECK_THROWS_AS(spread_of({Pressure(1e5), Pressure(std::nan(""))}), InputError);
  CHECK_THROWS_AS(fuel_wanted(Power(50), SpecificConsumption(8e-8), Density(745)), InputError);
  CHECK_THROWS_AS(measured_flow(Volume(250e-6), Time(0)), InputError);
  CHECK_THROWS_AS(delivery_ratio(VolumeFlow(1e-6), VolumeFlow(0)), InputError);
}

}  // namespace tickover::gas_compression_test
