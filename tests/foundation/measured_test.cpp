/// @file
/// Values off an instrument: a unit is asked for wherever more than one is in use.
#include "engine/foundation/measured.hpp"

#include <catch2/catch.hpp>
#include <numbers>

#include "engine/foundation/error.hpp"

namespace tickover::foundation_measured_test {
namespace {

std::string refusal(const std::string& text, const std::string& unit) {
  try {
    parse_measured(text, unit);
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::usage);
    return error.rule() + " | " + error.hint();
  }
  return {};
}

}  // namespace

TEST_CASE("a bare number is taken of turns and of plain numbers alone", "[foundation][units]") {
  CHECK(parse_measured("2 3/4", "turns").si == Approx(2.75 * 2 * std::numbers::pi));
  CHECK(parse_measured("0.92", "1").si == 0.92);
  CHECK(parse_measured("17,5 mm", "mm").si == Approx(0.0175));
  CHECK(refusal("17", "mm") == "'17' has no unit | write it with its unit, such as 17 mm");
  for (const char* unit : {"kPa", "degC", "%", "ppm", "ml/min", "rpm", "min", "mm"}) {
    CAPTURE(unit);
    CHECK(refusal("12", unit) ==
          "'12' has no unit | write it with its unit, such as 12 " + std::string(unit));
  }
  CHECK_THAT(refusal("17 kPa", "mm"), Catch::Contains("is a pressure, not a length"));
  CHECK_THAT(refusal("many", "mm"), Catch::Contains("does not begin with a number"));
}

}  // namespace tickover::foundation_measured_test
