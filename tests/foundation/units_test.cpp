/// @file
/// Units: what a mechanic writes is read right, or refused with a reason.
#include "engine/foundation/units.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <set>
#include <type_traits>

#include "engine/foundation/error.hpp"

namespace tickover::foundation_units_test {
namespace {

using Catch::Contains;

/// The complaint about `text`, with its hint; "" when there is none.
std::string complaint(const std::string& text, const std::string& default_unit = {}) {
  try {
    parse_quantity(text, default_unit);
    return {};
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::usage);
    return error.what();
  }
}

struct Written {
  const char* text;
  double si;
  Dimension dimension;
};

}  // namespace

TEST_CASE("a quantity is read as people write it", "[foundation][units]") {
  const auto [text, si, dimension] = GENERATE(values<Written>({
      {"14.6mm", 0.0146, Dimension::length},
      {"14,6 mm", 0.0146, Dimension::length},
      {"  14.6\tmm ", 0.0146, Dimension::length},
      {"14.6\u00A0mm", 0.0146, Dimension::length},
      {"0.016 in", 0.016 * 0.0254, Dimension::length},
      {"0,016 in", 0.016 * 0.0254, Dimension::length},
      {"4 thou", 0.0001016, Dimension::length},
      {"2 3/4 turns", 2.75 * 2 * std::numbers::pi, Dimension::angle},
      {"1/4 turn", 0.5 * std::numbers::pi, Dimension::angle},
      {"2.5 turns", 5 * std::numbers::pi, Dimension::angle},
      {"45 deg", std::numbers::pi / 4, Dimension::angle},
      {"20 degC", 293.15, Dimension::temperature},
      {"68 \u00B0F", 293.15, Dimension::temperature},
      {"-40\u00B0F", 233.15, Dimension::temperature},
      {"\u221240 \u00B0C", 233.15, Dimension::temperature},
      {"20 deg C", 293.15, Dimension::temperature},
      {"120kPa", 120e3, Dimension::pressure},
      {"120 KPA", 120e3, Dimension::pressure},
      {"0.9 bar", 0.9e5, Dimension::pressure},
      {"200 mm Hg", 200 * 133.322387415, Dimension::pressure},
      {"12 kg/cm2", 1176798.0, Dimension::pressure},
      {"3.5 %", 0.035, Dimension::fraction},
      {"400ppm", 4e-4, Dimension::fraction},
      {"340 ml/min", 340e-6 / 60, Dimension::volume_flow},
      {"340 cc / min", 340e-6 / 60, Dimension::volume_flow},
      {"1100 rpm", 1100 / 60.0, Dimension::frequency},
      {"1100 1/min", 1100 / 60.0, Dimension::frequency},
      {"12 min", 720, Dimension::time},
      {"1.5 h", 5400, Dimension::time},
      {"+1.2e3 m", 1200, Dimension::length},
      {"0.98 lambda", 0.98, Dimension::number},
      {"12.6 V", 12.6, Dimension::voltage},
  }));
  CAPTURE(text);
  const Quantity read = parse_quantity(text);
  CHECK(read.dimension == dimension);
  CHECK(read.si == Approx(si).epsilon(1e-12));
}

TEST_CASE("units are what their definitions say", "[foundation][units][published]") {
  struct Definition {
    double value;
    const char* from;
    double same;
    const char* to;
    double digits;  ///< relative precision of the printed value
  };
  const auto [value, from, same, to, digits] = GENERATE(values<Definition>({
      {1, "in", 25.4, "mm", 1e-15},            // international yard and pound, 1959
      {1, "mi", 1609.344, "m", 1e-15},         // the same
      {1, "lb", 453.59237, "g", 1e-15},        // the same
      {1, "mmHg", 133.3224, "Pa", 4e-7},       // NIST SP 811, B.8, conventional
      {1, "inHg", 3386.389, "Pa", 2e-7},       // NIST SP 811, B.8, conventional
      {1, "cmHg", 1333.224, "Pa", 4e-7},       // NIST SP 811, B.8, conventional
      {1, "psi", 6894.757, "Pa", 1e-7},        // NIST SP 811, B.8
      {1, "inH2O", 249.0889, "Pa", 2e-7},      // NIST SP 811, B.8, conventional
      {1, "kgf/cm2", 98066.5, "Pa", 1e-15},    // NIST SP 811, B.8, exact
      {1, "atm", 101325, "Pa", 1e-15},         // SI Brochure
      {760, "torr", 1, "atm", 1e-15},          // NIST SP 811
      {1, "hp", 745.6999, "W", 1e-7},          // NIST SP 811, B.8 (550 ft lbf/s)
      {1, "PS", 735.4988, "W", 1e-7},          // NIST SP 811, B.8, metric
      {1, "lb/hph", 608.2774, "g/kWh", 1e-7},  // NIST SP 811, B.8: 1.689659e-7 kg/J
      {1, "turns", 360, "deg", 1e-15},         // by definition
      {0, "degC", 32, "degF", 1e-14},          // by definition
      {100, "degC", 212, "degF", 1e-14},       // by definition
      {1, "mph", 0.44704, "m/s", 1e-15},       // NIST SP 811, exact
      {60, "rpm", 1, "Hz", 1e-15},             // by definition
      {1, "l/min", 1000, "ml/min", 1e-15},     // by definition
  }));
  CAPTURE(from, to);
  CHECK(in_unit(quantity_in(value, from), to) == Approx(same).epsilon(digits).margin(1e-12));
}

TEST_CASE("what cannot be read is refused with a reason", "[foundation][units][errors]") {
  CHECK_THAT(complaint("14.6 mmm"), Contains("no unit named 'mmm'") && Contains("nearest: mm"));
  CHECK_THAT(complaint("14.6 MM"), Contains("no unit named 'MM'") && Contains("nearest: mm"));
  CHECK_THAT(complaint("120 klPa"), Contains("nearest: kPa"));
  CHECK_THAT(complaint("1 mPa"), Contains("no unit named 'mPa'"));
  CHECK_THAT(complaint("14.6"), Contains("has no unit") && Contains("14.6 mm"));
  CHECK_THAT(complaint(""), Contains("does not begin with a number"));
  CHECK_THAT(complaint("mm"), Contains("does not begin with a number"));
  CHECK_THAT(complaint("inf mm"), Contains("does not begin with a number"));
  CHECK_THAT(complaint("nan mm"), Contains("does not begin with a number"));
  CHECK_THAT(complaint("1e999 mm"), Contains("too large or too small"));
  CHECK_THAT(complaint("1e308 bar"), Contains("not a finite number"));
  CHECK_THAT(complaint("1,100 rpm"), Contains("two ways") && Contains("write 1100 or 1.100"));
  CHECK_THAT(complaint("1.100,5 rpm"), Contains("more than one decimal mark"));
  CHECK_THAT(complaint("1/0 turn"), Contains("divides by zero"));
  CHECK_THAT(complaint("2 4/3 turns"), Contains("2 3/4"));
  CHECK_THAT(complaint("14.6 3/4 mm"), Contains("no unit named '3/4mm'"));
  CHECK_THAT(complaint("-300 degC"), Contains("below absolute zero"));
  CHECK_THAT(complaint("14 \x1b[31m"), !Contains("\x1b"));
  CHECK(complaint(std::string(5000, '9')).size() < 300);
  CHECK(complaint("1 " + std::string(5000, 'x')).size() < 300);
}

TEST_CASE("a bare number takes the default unit", "[foundation][units]") {
  CHECK(parse_quantity("14.6", "mm") == parse_quantity("14.6 mm"));
  CHECK(parse_quantity("14.6 in", "mm") == parse_quantity("14.6 in"));
  CHECK(parse_quantity("0.92", "1") == Quantity{0.92, Dimension::number});
  CHECK_THAT(complaint("1", "furlong"), Contains("no unit named 'furlong'"));
}

TEST_CASE("the wrong dimension is refused", "[foundation][units][errors]") {
  const std::string what = "'14.6 kPa' is a pressure, not a length";
  CHECK_THROWS_WITH(parse<Dimension::length>("14.6 kPa"), Contains(what) && Contains("mm, cm, m"));
  CHECK_THROWS_WITH(parse<Dimension::pressure>("45 deg"), Contains("is an angle, not a pressure"));
  CHECK_THROWS_WITH(in_unit(quantity_in(1, "mm"), "kPa"), Contains("'kPa' is a pressure"));
  CHECK_THROWS_WITH(typed<Dimension::area>(quantity_in(1, "mm")), Contains("not an area"));
  CHECK(typed<Dimension::length>(quantity_in(5, "mm")) == Length(0.005));
}

TEST_CASE("a quantity is written shortly", "[foundation][units]") {
  CHECK(format_quantity(parse_quantity("14,6mm"), "mm") == "14.6 mm");
  CHECK(format_quantity(parse_quantity("2 3/4 turns"), "turns") == "2.75 turns");
  CHECK(format_quantity(parse_quantity("68 degF"), "\u00B0C") == "20 \u00B0C");
  CHECK(format_quantity(parse_quantity("17 psi"), "kPa") == "117.211 kPa");
  CHECK(format_quantity(parse_quantity("17 psi"), "kPa", 3) == "117 kPa");
  CHECK(format_quantity(parse_quantity("1234567 km"), "km") == "1234567 km");
  CHECK(format_quantity(parse_quantity("101325 Pa"), "Pa") == "101325 Pa");
  CHECK(format_quantity(parse_quantity("1100 rpm"), "rpm") == "1100 rpm");
  CHECK(format_quantity(parse_quantity("0.92 lambda"), "1") == "0.92");
  CHECK(format_quantity(parse_quantity("0 mm"), "mm") == "0 mm");
  CHECK(format_quantity(parse_quantity("-0 mm"), "mm") == "0 mm");
  CHECK(format_quantity(parse_quantity("0.000012 mm"), "mm") == "0.000012 mm");
  CHECK(format_quantity(parse_quantity("400 ppm"), "ppm") == "400 ppm");
}

TEST_CASE("a difference of temperatures has no zero point", "[foundation][units]") {
  CHECK(difference_to_si(2, "degC") == 2.0);
  CHECK(difference_to_si(9, "degF") == Approx(5.0));
  CHECK(difference_to_si(0.5, "mm") == Approx(0.0005));
  CHECK(difference_in_unit(difference_to_si(7, "degF"), "degF") == Approx(7.0));
}

TEST_CASE("every unit converts back and forth", "[foundation][units][property]") {
  std::set<std::string> seen;
  for (int i = 0; i <= static_cast<int>(Dimension::resistance); ++i) {
    const auto dimension = static_cast<Dimension>(i);
    CHECK_FALSE(dimension_name(dimension).empty());
    CHECK_FALSE(known_units(dimension).empty());
    for (const std::string& unit : known_units(dimension)) {
      CAPTURE(unit);
      CHECK(seen.insert(unit).second);
      CHECK(known_unit(unit));
      CHECK(dimension_of(unit) == dimension);
      CHECK(in_unit(quantity_in(3.25, unit), unit) == Approx(3.25).epsilon(1e-12));
      const std::string text = format_quantity(quantity_in(3.25, unit), unit);
      CHECK(parse_quantity(text, "1").si == Approx(quantity_in(3.25, unit).si).epsilon(1e-12));
    }
  }
  CHECK_FALSE(known_unit(""));
  CHECK_FALSE(known_unit("furlong"));
}

TEST_CASE("the compiler keeps dimensions apart", "[foundation][units]") {
  STATIC_REQUIRE_FALSE(std::is_convertible_v<double, Length>);
  STATIC_REQUIRE_FALSE(std::is_convertible_v<Length, double>);
  STATIC_REQUIRE_FALSE(std::is_constructible_v<Length, Pressure>);
  STATIC_REQUIRE_FALSE(std::is_invocable_v<std::plus<>, Length, Pressure>);
  STATIC_REQUIRE_FALSE(std::is_invocable_v<std::less<>, Length, Pressure>);
  STATIC_REQUIRE(std::is_same_v<std::invoke_result_t<std::plus<>, Length, Length>, Length>);
  CHECK(Length(3) / Length(2) == 1.5);
  CHECK(2.0 * Length(3) - Length(1) == Length(5));
  CHECK(quantity(Length(3)) == Quantity{3, Dimension::length});
}

}  // namespace tickover::foundation_units_test
