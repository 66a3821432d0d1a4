/// @file
/// Which cylinder is odd.
#include "engine/gas/spread.hpp"

#include <catch2/catch.hpp>

#include "engine/foundation/error.hpp"

namespace tickover::gas_spread_test {
namespace {

std::vector<Pressure> kilopascals(const std::vector<double>& readings) {
  std::vector<Pressure> out;
  for (const double reading : readings) out.emplace_back(1e3 * reading);
  return out;
}

/// Counted from 1; 0 for none.
std::size_t odd_of(const std::vector<double>& readings) {
  const auto odd = odd_cylinder(kilopascals(readings));
  return odd ? odd->at + 1 : 0;
}

}  // namespace

TEST_CASE("one cylinder apart from its siblings is odd", "[gas]") {
  CHECK(odd_of({24, 26, 25, 21}) == 4);
  CHECK(odd_of({30, 25, 25, 25}) == 1);
  CHECK(odd_of({25, 20, 25}) == 2);
  CHECK(odd_of({24, 25, 21}) == 3);
  CHECK(odd_of({25, 24, 25, 25, 18, 25}) == 5);
  const auto low = odd_cylinder(kilopascals({24, 26, 25, 21}));
  CHECK(low->off_by.value == Approx(-4000));
  CHECK(odd_cylinder(kilopascals({30, 25, 25, 26}))->off_by.value == Approx(4500));
}

TEST_CASE("nobody is odd among equals, halves, the scattered, and two", "[gas]") {
  CHECK(odd_of({25, 25, 25, 25}) == 0);
  CHECK(odd_of({20, 20, 26, 26}) == 0);
  CHECK(odd_of({20, 22, 24, 26}) == 0);
  CHECK(odd_of({20, 26}) == 0);
  CHECK(odd_of({20, 23, 26}) == 0);
  CHECK(odd_of({20, 23, 27}) == 0);
  CHECK(odd_of({0, 0, 0}) == 0);
  CHECK_THROWS_AS(odd_of({25}), InputError);
}

}  // namespace tickover::gas_spread_test
