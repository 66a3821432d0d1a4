/// @file
/// Flow through a hole: textbook constants, and the flow integral by quadrature.
#include "engine/gas/orifice.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <type_traits>

#include "engine/foundation/error.hpp"

namespace tickover::gas_orifice_test {
namespace {

using Catch::Contains;

const Air kWorkshopAir{Pressure(101325), Temperature(293.15)};

/// Air of given vacuum behind the hole.
Pressure below(double kilopascal) { return Pressure(101325 - 1e3 * kilopascal); }

/// Mass flow per area at throat pressure `throat`: speed from the energy equation
/// v^2/2 = integral of dp/density along the isentrope, by quadrature.
double throat_flux(double p0, double t0, double throat) {
  const double density0 = p0 / (287.05287 * t0);
  const auto density = [&](double p) { return density0 * std::pow(p / p0, 1 / 1.4); };
  const auto volume = [&](double p) { return 1 / density(p); };
  const double energy =
      boost::math::quadrature::gauss_kronrod<double, 31>::integrate(volume, throat, p0, 8, 1e-12);
  return density(throat) * std::sqrt(2 * energy);
}

/// The throat takes the pressure, not below `behind`, at which most mass passes: the physical
/// meaning of choking, found by golden section search.
double independent_flux(double p0, double t0, double behind) {
  const double golden = (std::sqrt(5.0) - 1) / 2;
  double low = behind, high = p0;
  for (int i = 0; i < 80; ++i) {
    const double a = high - golden * (high - low), b = low + golden * (high - low);
    const bool left = throat_flux(p0, t0, a) > throat_flux(p0, t0, b);
    (left ? high : low) = left ? b : a;
  }
  return std::max(throat_flux(p0, t0, (low + high) / 2), throat_flux(p0, t0, behind));
}

double flux(const Air& air, Pressure behind) {
  return air_flow({Area(1e-6), 1.0}, air, behind).value * 1e6;
}

}  // namespace

TEST_CASE("textbook constants of choked air", "[gas][published]") {
  CHECK(critical_pressure_ratio() == Approx(0.52828).epsilon(0).margin(5.1e-6));
  // m = 0.040415 sqrt(K) s/m * p A / sqrt(T); 239.2 kg/(s m2) at 101.325 kPa and 20 degC.
  const double choked = flux(kWorkshopAir, Pressure(1e4));
  CHECK(choked * std::sqrt(293.15) / 101325 == Approx(0.040415).epsilon(0).margin(1e-6));
  CHECK(choked == Approx(239.2).epsilon(0).margin(0.051));
}

TEST_CASE("leak per square millimetre", "[gas][published]") {
  struct Row {
    double vacuum, grams;
  };
  // Coefficient 0.65, 20 degC; recomputed from the formula of a gas dynamics text.
  const Row row = GENERATE(values<Row>({{5, 0.069},
                                        {10, 0.095},
                                        {15, 0.113},
                                        {20, 0.127},
                                        {25, 0.137},
                                        {30, 0.144},
                                        {40, 0.153},
                                        {48, 0.155},
                                        {60, 0.155}}));
  CAPTURE(row.vacuum);
  const MassFlow leak = air_flow({Area(1e-6), 0.65}, kWorkshopAir, below(row.vacuum));
  CHECK(1e3 * leak.value == Approx(row.grams).epsilon(0).margin(5.1e-4));
}

TEST_CASE("the incompressible formula is too high by known shares", "[gas][published]") {
  struct Row {
    double vacuum, excess;
  };
  const Row row = GENERATE(values<Row>({{5, 0.03}, {25, 0.17}, {40, 0.31}}));
  const double incompressible = std::sqrt(2 * air_density(kWorkshopAir).value * 1e3 * row.vacuum);
  CHECK(incompressible / flux(kWorkshopAir, below(row.vacuum)) - 1 ==
        Approx(row.excess).epsilon(0).margin(0.0051));
}

TEST_CASE("the flow integral by quadrature agrees", "[gas][independent]") {
  const double ratio = GENERATE(0.999, 0.97, 0.9, 0.75, 0.6, 0.53, 0.5, 0.3, 0.05);
  CAPTURE(ratio);
  CHECK(flux(kWorkshopAir, ratio * kWorkshopAir.pressure) ==
        Approx(independent_flux(101325, 293.15, ratio * 101325)).epsilon(1e-9));
}

TEST_CASE("flow is continuous where it chokes", "[gas][property]") {
  const double critical = critical_pressure_ratio();
  const Pressure above = (critical * (1 + 1e-9)) * kWorkshopAir.pressure;
  const Pressure under = (critical * (1 - 1e-9)) * kWorkshopAir.pressure;
  CHECK(flux(kWorkshopAir, above) == Approx(flux(kWorkshopAir, under)).epsilon(1e-12));
  CHECK(flux(kWorkshopAir, kWorkshopAir.pressure) == 0.0);
}

TEST_CASE("flow grows with hole and vacuum, and inverts", "[gas][property]") {
  std::mt19937_64 random(20);
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random() >> 11) * 0x1p-53;
  };
  for (int i = 0; i < 200; ++i) {
    const double vacuum = uniform(0.1, 99), coefficient = uniform(0.3, 1);
    const Area area(1e-6 * uniform(0.01, 500));
    CAPTURE(i, vacuum, coefficient, area.value);
    const MassFlow flow = air_flow({area, coefficient}, kWorkshopAir, below(vacuum));
    CHECK(air_flow({1.01 * area, coefficient}, kWorkshopAir, below(vacuum)) > flow);
    CHECK(air_flow({area, coefficient}, kWorkshopAir, below(1.01 * vacuum)) >= flow);
    CHECK(orifice_area(flow, coefficient, kWorkshopAir, below(vacuum)).value ==
          Approx(area.value).epsilon(1e-12));
    CHECK(circle_area(circle_diameter(area)).value == Approx(area.value).epsilon(1e-14));
  }
}

TEST_CASE("humid air passes as its density says", "[gas][property]") {
  Air humid{Pressure(101325), Temperature(308.15), Fraction(0.9)}, dry = humid;
  dry.humidity = Fraction(0);
  CHECK(flux(humid, below(20)) / flux(dry, below(20)) ==
        Approx(std::sqrt(air_density(humid) / air_density(dry))).epsilon(1e-12));
  CHECK(compressed_air_flow({Area(1e-6), 0.65}, Pressure(101325), Temperature(308.15), below(20))
            .value == Approx(air_flow({Area(1e-6), 0.65}, dry, below(20)).value).epsilon(1e-12));
}

TEST_CASE("impossible holes are refused", "[gas][errors]") {
  const Orifice hole{Area(1e-6), 0.65};
  CHECK_THROWS_WITH(air_flow(hole, kWorkshopAir, Pressure(110e3)),
                    Contains("110 kPa, should lie above zero") && Contains("101.325 kPa"));
  CHECK_THROWS_AS(air_flow(hole, kWorkshopAir, Pressure(0)), InputError);
  CHECK_THROWS_AS(air_flow(hole, kWorkshopAir, Pressure(std::nan(""))), InputError);
  CHECK_THROWS_WITH(air_flow({Area(-1e-6), 0.65}, kWorkshopAir, below(20)),
                    Contains("hole area -1 mm2"));
  CHECK_THROWS_WITH(air_flow({Area(1e-6), 1.2}, kWorkshopAir, below(20)),
                    Contains("coefficient 1.2"));
  CHECK_THROWS_WITH(orifice_area(MassFlow(1e-4), 0.65, kWorkshopAir, below(0)),
                    Contains("no air flows"));
  CHECK_THROWS_AS(circle_area(Length(0.2)), InputError);
}

TEST_CASE("a pressure is no temperature to the compiler", "[gas]") {
  STATIC_REQUIRE(
      std::is_invocable_v<decltype(compressed_air_flow), Orifice, Pressure, Temperature, Pressure>);
  STATIC_REQUIRE_FALSE(
      std::is_invocable_v<decltype(compressed_air_flow), Orifice, Temperature, Pressure, Pressure>);
  STATIC_REQUIRE_FALSE(std::is_invocable_v<decltype(air_flow), Orifice, Air, Length>);
  STATIC_REQUIRE_FALSE(std::is_invocable_v<decltype(air_flow), Orifice, Air, double>);
  STATIC_REQUIRE_FALSE(std::is_invocable_v<decltype(circle_area), Area>);
}

}  // namespace tickover::gas_orifice_test
