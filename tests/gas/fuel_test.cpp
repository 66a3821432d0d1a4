/// @file
/// Fuel: published air-fuel ratios, and molecules counted one by one.
#include "engine/gas/fuel.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/foundation/error.hpp"

namespace tickover::gas_fuel_test {
namespace {

using Catch::Contains;

/// Air per fuel by mass from the whole molecule C_c H_h O_o and the weights of O2 and air, without
/// ratios per carbon atom: an independent route.
double ratio_of_molecule(int c, int h, int o) {
  const double fuel = 12.011 * c + 1.008 * h + 15.999 * o;
  const double oxygen_atoms = 2.0 * c + h / 2.0 - o;
  return oxygen_atoms / 2 / 0.2095 * 28.9647 / fuel;
}

Fuel of_molecule(int c, int h, int o) {
  return {static_cast<double>(h) / c, static_cast<double>(o) / c, Density(750)};
}

}  // namespace

TEST_CASE("stoichiometric ratios are those of the tables", "[gas][published]") {
  struct Row {
    Fuel fuel;
    double ratio, digits;
  };
  const Density any(745);
  // Computed from composition with 28.9647 g/mol and 20.95 % O2; Heywood 1988, table D.4, agrees
  // within rounding (from memory): petrol 14.6, iso-octane 15.13, ethanol 9.00.
  const Row row = GENERATE_COPY(values<Row>({
      {{1.85, 0, any}, 14.57, 0.0051},
      {{2.0, 0, any}, 14.78, 0.0051},
      {{2.25, 0, any}, 15.13, 0.0051},
      {{1.87, 0, any}, 14.60, 0.0051},
      {kEthanol, 9.00, 0.0051},
      {petrol_with_ethanol(Fraction(0.05)), 14.28, 0.0051},
      {petrol_with_ethanol(Fraction(0.10)), 13.99, 0.0051},
      {petrol_with_ethanol(Fraction(0.85)), 9.80, 0.0051},
  }));
  CHECK(stoichiometric_air_fuel_ratio(row.fuel) == Approx(row.ratio).epsilon(0).margin(row.digits));
}

TEST_CASE("molecules counted one by one give the same ratio", "[gas][independent]") {
  struct Molecule {
    int c, h, o;
  };
  const auto [c, h, o] =
      GENERATE(values<Molecule>({{1, 4, 0}, {8, 18, 0}, {7, 8, 0}, {2, 6, 1}, {5, 12, 1}}));
  CHECK(stoichiometric_air_fuel_ratio(of_molecule(c, h, o)) ==
        Approx(ratio_of_molecule(c, h, o)).epsilon(1e-12));
}

TEST_CASE("a blend is its parts by mass", "[gas][independent]") {
  const double share = GENERATE(0.0, 0.05, 0.1, 0.3, 0.85);
  const Fuel blend = petrol_with_ethanol(Fraction(share));
  const double petrol = (1 - share) * 745, ethanol = share * 789;  // kg per m3 of blend
  CHECK(blend.density.value == Approx(petrol + ethanol));
  const double air =
      petrol * stoichiometric_air_fuel_ratio(kPetrol) + ethanol * ratio_of_molecule(2, 6, 1);
  CHECK(stoichiometric_air_fuel_ratio(blend) == Approx(air / (petrol + ethanol)).epsilon(1e-12));
}

TEST_CASE("a fixed carburettor leans on ethanol", "[gas][published]") {
  struct Row {
    double share, ratio, factor;
  };
  // Worked out by hand for a petrol of 14.70 (CH1.94, 745 kg/m3): 14.40, 14.10, 13.80 and 9.82 for
  // E5, E10, E15, E85, and lambda by 1.0194, 1.0395, 1.0603 on them.
  const Fuel petrol{1.93986, 0.0, Density(745)};
  for (const Row& row : {Row{0.05, 14.40, 1.0194}, {0.10, 14.10, 1.0395}, {0.15, 13.80, 1.0603}}) {
    CAPTURE(row.share);
    const Fuel blend = petrol_with_ethanol(Fraction(row.share), petrol);
    CHECK(stoichiometric_air_fuel_ratio(blend) == Approx(row.ratio).epsilon(0).margin(0.0051));
    CHECK(fuel_change_lambda_factor(petrol, blend) == Approx(row.factor).epsilon(0).margin(5.1e-5));
  }
}

TEST_CASE("the lean shift on ethanol by molecules and masses", "[gas][independent]") {
  // Of one litre flowing through a jet as root(density) of mass; air as the molecules want it.
  // kPetrol is a little richer in carbon than the petrol above, so E10 leans it by 3.89, not 3.95
  // %.
  const double share = GENERATE(0.0, 0.05, 0.10, 0.15, 0.85);
  const double petrol = (1 - share) * 745, ethanol = share * 789;
  const double air =
      (petrol * ratio_of_molecule(20, 37, 0) + ethanol * ratio_of_molecule(2, 6, 1)) /
      (petrol + ethanol);
  const double factor = ratio_of_molecule(20, 37, 0) / air * std::sqrt(745 / (petrol + ethanol));
  const Fuel blend = petrol_with_ethanol(Fraction(share));
  CHECK(fuel_change_lambda_factor(kPetrol, blend) == Approx(factor).epsilon(1e-12));
  if (share == 0.10) CHECK(factor == Approx(1.0389).epsilon(0).margin(5.1e-5));
}

TEST_CASE("more ethanol is leaner, and back is the inverse", "[gas][property]") {
  const double share = GENERATE(0.0, 0.1, 0.4, 0.7);
  const Fuel less = petrol_with_ethanol(Fraction(share));
  const Fuel more = petrol_with_ethanol(Fraction(share + 0.1));
  CHECK(fuel_change_lambda_factor(less, more) > 1.0);
  CHECK(fuel_change_lambda_factor(less, more) * fuel_change_lambda_factor(more, less) ==
        Approx(1.0).epsilon(1e-14));
}

TEST_CASE("fuel outside the formulas is refused", "[gas][errors]") {
  CHECK_THROWS_WITH(petrol_with_ethanol(Fraction(0.9)), Contains("ethanol by volume 90 %"));
  CHECK_THROWS_AS(petrol_with_ethanol(Fraction(-0.01)), InputError);
  CHECK_THROWS_AS(stoichiometric_air_fuel_ratio({5.0, 0.0, Density(745)}), InputError);
  CHECK_THROWS_AS(stoichiometric_air_fuel_ratio({1.85, 2.0, Density(745)}), InputError);
  CHECK_THROWS_AS(stoichiometric_air_fuel_ratio({1.85, 0.0, Density(0.745)}), InputError);
}

}  // namespace tickover::gas_fuel_test
