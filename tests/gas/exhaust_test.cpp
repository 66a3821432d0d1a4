/// @file
/// Exhaust lambda against gas whose lambda is known by construction: atom balances with the
/// water-gas equilibrium, solved numerically.
#include "engine/gas/exhaust.hpp"

#include <boost/math/tools/roots.hpp>
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/foundation/error.hpp"

namespace tickover::gas_exhaust_test {
namespace {

using Catch::Contains;

constexpr double kAirOxygen = 0.2095;

/// Moles per mole of carbon burnt.
struct Moles {
  double co = 0, co2 = 0, o2 = 0, h2 = 0, n2 = 0, hexane = 0, no = 0;
  double dry() const { return co + co2 + o2 + h2 + n2 + hexane + no; }
};

/// Products of C H_h O_o burnt at `lambda`: complete when lean; when rich, CO from the balance of
/// C, H, O and CO H2O = K CO2 H2.
Moles burn(const Fuel& fuel, double lambda, double water_gas) {
  const double h = fuel.hydrogen_per_carbon, o = fuel.oxygen_per_carbon;
  const double supplied = lambda * (1 + h / 4 - o / 2);
  Moles gas;
  gas.n2 = supplied * (1 - kAirOxygen) / kAirOxygen;
  if (lambda >= 1) {
    gas.co2 = 1;
    gas.o2 = supplied - (1 + h / 4 - o / 2);
    return gas;
  }
  const auto water = [&](double co) { return 2 * supplied + o - 2 + co; };
  const auto imbalance = [&](double co) {
    return co * water(co) - water_gas * (1 - co) * (h / 2 - water(co));
  };
  std::uintmax_t steps = 200;
  const double least = std::max(0.0, 2 - o - 2 * supplied);  // water cannot be negative
  const double most = std::min(1.0, 2 * (1 + h / 4 - o / 2) * (1 - lambda));  // nor hydrogen
  const auto root = boost::math::tools::toms748_solve(
      imbalance, least, most, boost::math::tools::eps_tolerance<double>(50), steps);
  gas.co = (root.first + root.second) / 2;
  gas.co2 = 1 - gas.co;
  gas.h2 = h / 2 - water(gas.co);
  return gas;
}

/// A share of the mixture leaves the engine as it came.
Moles misfire(const Fuel& fuel, double lambda, double share) {
  const Moles burnt = burn(fuel, lambda, 3.5);
  const double oxygen = lambda * (1 + fuel.hydrogen_per_carbon / 4 - fuel.oxygen_per_carbon / 2);
  Moles gas{(1 - share) * burnt.co,
            (1 - share) * burnt.co2,
            (1 - share) * burnt.o2,
            (1 - share) * burnt.h2,
            burnt.n2,
            share / 6,
            0};
  gas.o2 += share * oxygen;
  return gas;
}

/// Air mixed in so that it is `share` of the dry sample.
Moles diluted(Moles gas, double share) {
  const double air = gas.dry() * share / (1 - share);
  gas.o2 += kAirOxygen * air;
  gas.n2 += (1 - kAirOxygen) * air;
  return gas;
}

/// What an analyser shows of it.
ExhaustGas sampled(const Moles& gas) {
  const double dry = gas.dry();
  return {Fraction(gas.co / dry), Fraction(gas.co2 / dry), Fraction(gas.o2 / dry),
          Fraction(gas.hexane / dry), Fraction(gas.no / dry)};
}

ExhaustGas percent(double co, double co2, double o2, double ppm) {
  return {Fraction(co / 100), Fraction(co2 / 100), Fraction(o2 / 100), Fraction(ppm * 1e-6)};
}

const Fuel kCourseFuel{1.87, 0.0, Density(745)};

}  // namespace

TEST_CASE("vectors built by an independent routine", "[gas][published]") {
  struct Row {
    double lambda, co, co2, o2, h2, matching, regulation;
  };
  // CH1.87, water-gas constant 3.7: composition routine of MIT course 2.61 (2017), re-derived from
  // atom balances; the last columns are the equation with matching and with regulation constants.
  const Row row = GENERATE(values<Row>({{0.80, 7.68, 10.22, 0, 2.83, 0.7975, 0.7956},
                                        {0.85, 5.68, 11.51, 0, 1.89, 0.8481, 0.8465},
                                        {0.90, 3.72, 12.80, 0, 1.13, 0.8988, 0.8975},
                                        {0.92, 2.96, 13.31, 0, 0.86, 0.9190, 0.9180},
                                        {0.95, 1.83, 14.07, 0, 0.50, 0.9494, 0.9487},
                                        {0.98, 0.72, 14.81, 0, 0.19, 0.9798, 0.9795},
                                        {1.00, 0, 15.30, 0, 0, 1.0000, 1.0000},
                                        {1.05, 0, 14.52, 1.07, 0, 1.0500, 1.0516},
                                        {1.10, 0, 13.82, 2.03, 0, 1.1000, 1.1031},
                                        {1.20, 0, 12.60, 3.70, 0, 1.2000, 1.2063},
                                        {1.30, 0, 11.58, 5.10, 0, 1.3000, 1.3094}}));
  CAPTURE(row.lambda);
  const Moles gas = burn(kCourseFuel, row.lambda, 3.7);
  CHECK(100 * gas.co / gas.dry() == Approx(row.co).epsilon(0).margin(0.0101));
  CHECK(100 * gas.co2 / gas.dry() == Approx(row.co2).epsilon(0).margin(0.0101));
  CHECK(100 * gas.o2 / gas.dry() == Approx(row.o2).epsilon(0).margin(0.0101));
  CHECK(100 * gas.h2 / gas.dry() == Approx(row.h2).epsilon(0).margin(0.0101));
  CHECK(exhaust_lambda(sampled(gas), kCourseFuel) == Approx(row.matching).epsilon(0).margin(1e-4));
  CHECK(exhaust_lambda(sampled(gas), kRegulationPetrol) ==
        Approx(row.regulation).epsilon(0).margin(1e-4));
}

TEST_CASE("regression vectors with the regulation's constants", "[gas][published]") {
  struct Row {
    ExhaustGas gas;
    double lambda, digits;
  };
  // Computed from the equation as in 98/69/EC (from memory); no published worked example was found.
  const Row row = GENERATE(values<Row>({{percent(0.50, 14.70, 0.50, 100), 1.0047, 5.1e-5},
                                        {percent(3.00, 12.80, 0.60, 250), 0.9321, 5.1e-5},
                                        {percent(0.30, 13.00, 2.60, 180), 1.1184, 5.1e-5},
                                        {percent(0.15, 10.80, 5.80, 900), 1.3021, 5.1e-5},
                                        {percent(4.00, 12.00, 0.50, 200), 0.901, 5.1e-4},
                                        {percent(0.30, 13.50, 2.50, 150), 1.111, 5.1e-4}}));
  CHECK(exhaust_lambda(row.gas, kRegulationPetrol) ==
        Approx(row.lambda).epsilon(0).margin(row.digits));
}

TEST_CASE("lambda of ideal gas is exact for every fuel", "[gas][property][independent]") {
  const double ethanol = GENERATE(0.0, 0.1, 0.5, 0.85);
  const double lambda = GENERATE(0.75, 0.88, 0.97, 1.0, 1.08, 1.6);
  const Fuel fuel = petrol_with_ethanol(Fraction(ethanol));
  CAPTURE(ethanol, lambda);
  CHECK(exhaust_lambda(sampled(burn(fuel, lambda, 3.5)), fuel) == Approx(lambda).epsilon(1e-10));
}

TEST_CASE("misfire and nitric oxide do not move lambda", "[gas][property][independent]") {
  const double lambda = GENERATE(0.9, 1.0, 1.15);
  Moles gas = misfire(kPetrol, lambda, 0.08);
  CHECK(exhaust_lambda(sampled(gas)) == Approx(lambda).epsilon(1e-10));
  CHECK(check_exhaust(sampled(gas)).balance == Approx(1.0).epsilon(1e-10));
  gas.no += 0.01;
  gas.o2 -= 0.005;
  gas.n2 -= 0.005;
  CHECK(exhaust_lambda(sampled(gas)) == Approx(lambda).epsilon(1e-10));
  CHECK(check_exhaust(sampled(gas)).balance == Approx(1.0).epsilon(1e-10));
}

TEST_CASE("propane and hexane scales count the same carbon", "[gas][property]") {
  ExhaustGas hexane = percent(3.0, 12.8, 0.6, 250), propane = percent(3.0, 12.8, 0.6, 500);
  propane.scale = HydrocarbonScale::propane;
  CHECK(exhaust_lambda(hexane) == Approx(exhaust_lambda(propane)).epsilon(1e-14));
  hexane.hydrocarbons = Fraction(0.0);
  CHECK(exhaust_lambda(hexane) > exhaust_lambda(propane));
}

TEST_CASE("added air raises lambda by its oxygen", "[gas][property][independent]") {
  const double lambda = GENERATE(0.85, 0.92, 1.0, 1.1);
  const double share = GENERATE(0.01, 0.05, 0.2, 0.4);
  CAPTURE(lambda, share);
  const Moles gas = burn(kPetrol, lambda, 3.5);
  const double air_per_carbon = gas.dry() * share / (1 - share);
  const double demand = 1 + 1.85 / 4;
  CHECK(exhaust_lambda(sampled(diluted(gas, share))) ==
        Approx(lambda + kAirOxygen * air_per_carbon / demand).epsilon(1e-10));
}

TEST_CASE("a leaking exhaust is seen through", "[gas][property]") {
  const double lambda = GENERATE(0.85, 0.92, 0.97);
  const double share = GENERATE(0.0, 0.05, 0.1, 0.2);
  CAPTURE(lambda, share);
  const ExhaustGas tight = sampled(burn(kPetrol, lambda, 3.5));
  const ExhaustCheck check = check_exhaust(sampled(diluted(burn(kPetrol, lambda, 3.5), share)));
  CHECK(check.diluted_lambda == Approx(lambda).epsilon(1e-10));
  CHECK(check.outside_air.value == Approx(share).epsilon(0).margin(1e-10));
  CHECK(check.undiluted_co2.value == Approx(tight.carbon_dioxide.value).epsilon(1e-10));
  CHECK(check.balance == Approx(1.0).epsilon(1e-10));
}

TEST_CASE("the published dilution series", "[gas][published]") {
  struct Row {
    double air, co, o2, lambda;
  };
  // Gas of lambda 0.919 (CO 3.00, CO2 13.71) with 5, 10 and 20 % air; recomputed by hand.
  const Row row = GENERATE(values<Row>(
      {{0.05, 2.85, 1.04, 0.965}, {0.10, 2.70, 2.09, 1.017}, {0.20, 2.40, 4.18, 1.139}}));
  const ExhaustGas gas = percent(3.00 * (1 - row.air), 13.71 * (1 - row.air), 20.9 * row.air, 0);
  CHECK(100 * gas.carbon_monoxide.value == Approx(row.co).epsilon(0).margin(0.0051));
  CHECK(100 * gas.oxygen.value == Approx(row.o2).epsilon(0).margin(0.0051));
  const ExhaustCheck check = check_exhaust(gas, kRegulationPetrol);
  CHECK(check.lambda == Approx(row.lambda).epsilon(0).margin(0.0011));
  CHECK(check.diluted_lambda == Approx(0.919).epsilon(0).margin(0.001));
  CHECK(lean_reading_doubtful(check, 0.01) == (row.air > 0.05));
}

TEST_CASE("a lean engine is not called a leaking exhaust", "[gas]") {
  const ExhaustCheck lean = check_exhaust(sampled(burn(kPetrol, 1.15, 3.5)));
  CHECK(lean.lambda == Approx(1.15));
  CHECK(lean.diluted_lambda == Approx(1.0));
  CHECK_FALSE(lean_reading_doubtful(lean, 0.01));
  const ExhaustCheck missing = check_exhaust(sampled(misfire(kPetrol, 1.15, 0.1)));
  CHECK(missing.outside_air.value < lean.outside_air.value + 1e-3);
  CHECK_FALSE(lean_reading_doubtful(missing, 0.01));
  CHECK(check_exhaust(sampled(misfire(kPetrol, 0.95, 0.1))).outside_air.value ==
        Approx(0).epsilon(0).margin(1e-12));
}

TEST_CASE("a weak cell shows in the balance, outside air does not", "[gas]") {
  ExhaustGas gas = sampled(diluted(burn(kPetrol, 0.92, 3.5), 0.15));
  CHECK(check_exhaust(gas).balance == Approx(1.0).epsilon(1e-10));
  gas.carbon_dioxide = gas.carbon_dioxide - Fraction(0.02);
  CHECK(check_exhaust(gas).balance == Approx(1 - 6.5 * 0.02).epsilon(0).margin(0.01));
}

TEST_CASE("gas that is no exhaust is refused", "[gas][errors]") {
  CHECK_THROWS_WITH(exhaust_lambda(percent(0, 0.04, 20.9, 0)), Contains("this is air"));
  CHECK_THROWS_WITH(exhaust_lambda(percent(3, 25, 0, 0)), Contains("CO2 25 %") && Contains("20 %"));
  CHECK_THROWS_WITH(exhaust_lambda(percent(30, 10, 0, 0)), Contains("CO 30 %"));
  CHECK_THROWS_WITH(exhaust_lambda(percent(3, 12, 22, 0)), Contains("O2 22 %"));
  CHECK_THROWS_WITH(exhaust_lambda(percent(3, 12, 1, 30000)), Contains("carbon in HC"));
  CHECK_THROWS_AS(exhaust_lambda(percent(-0.1, 12, 1, 0)), InputError);
  CHECK_THROWS_AS(exhaust_lambda(percent(std::nan(""), 12, 1, 0)), InputError);
  CHECK_THROWS_AS(lean_reading_doubtful(check_exhaust(percent(3, 12, 1, 0)), 0.5), InputError);
}

}  // namespace tickover::gas_exhaust_test
