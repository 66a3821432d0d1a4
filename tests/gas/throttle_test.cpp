/// @file
/// Part throttle between idle and wide open: its ends, continuity, and which way everything goes.
#include "engine/gas/throttle.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/foundation/error.hpp"
#include "engine/gas/leak.hpp"

namespace tickover::gas_throttle_test {
namespace {

const Air kWorkshopAir{Pressure(101325), Temperature(293.15)};
const Engine kFour{Volume(1000e-6), 4};

/// Throttles of 30 mm, one to a cylinder; idle at 1100 rpm under 25 kPa of vacuum.
ThrottleLine line_with(double vacuum = 25e3, double filling = 0.22) {
  return {{Frequency(1100.0 / 60), Pressure(101325 - vacuum), Fraction(filling)},
          Frequency(9000.0 / 60),
          Fraction(0.85),
          {Area(4 * 706.86e-6), 0.8}};
}

}  // namespace

TEST_CASE("the throttle line begins at idle and ends wide open", "[gas][property]") {
  const double vacuum = GENERATE(10e3, 25e3, 60e3);
  const ThrottleLine line = line_with(vacuum);
  const double at_idle = idle_opening(kFour, line, kWorkshopAir);
  const OperatingPoint idle = point_at_opening(kFour, line, at_idle, kWorkshopAir);
  CHECK(idle.speed.value == Approx(line.idle.speed.value).epsilon(1e-12));
  CHECK(idle.manifold.value == Approx(line.idle.manifold.value).epsilon(1e-9));
  CHECK(idle.filling.value == Approx(line.idle.filling.value).epsilon(1e-9));
  const OperatingPoint open = point_at_opening(kFour, line, 1.0, kWorkshopAir);
  CHECK(open.speed.value == Approx(150));
  CHECK(101325 - open.manifold.value < 1000);
  CHECK(open.filling.value == Approx(0.85).epsilon(0.04));
}

TEST_CASE("on the throttle line what flows in is what the engine takes", "[gas][independent]") {
  const double opening = GENERATE(0.01, 0.05, 0.2, 0.7, 1.0);
  const ThrottleLine line = line_with();
  const OperatingPoint point = point_at_opening(kFour, line, opening, kWorkshopAir);
  const double density = 101325 / (287.05287 * 293.15);
  const double taken = 1e-3 * point.speed.value / 2 * point.filling.value * density;
  // isentropic flow written out by velocity and density in the throat, not choked here
  const double ratio = point.manifold.value / 101325;
  const double speed = std::sqrt(7 * 287.05287 * 293.15 * (1 - std::pow(ratio, 2.0 / 7)));
  const double passed = 0.8 * opening * 4 * 706.86e-6 * density * std::pow(ratio, 1 / 1.4) * speed;
  CHECK(passed == Approx(taken).epsilon(1e-6));
}

TEST_CASE("opening the throttle lowers vacuum and the leak's share", "[gas][property]") {
  const ThrottleLine line = line_with();
  const Orifice hole{circle_area(Length(1e-3)), 0.65};
  double vacuum = 1e9, share = 1e9, speed = 0, filling = 0;
  for (double opening = idle_opening(kFour, line, kWorkshopAir); opening <= 1; opening *= 1.3) {
    const OperatingPoint point = point_at_opening(kFour, line, opening, kWorkshopAir);
    const double now = leak_effect(hole, kFour, point, kWorkshopAir).share_of_cylinder;
    CHECK(101325 - point.manifold.value < vacuum);
    CHECK(now < share);
    CHECK(point.speed.value > speed);
    CHECK(point.filling.value > filling);
    vacuum = 101325 - point.manifold.value;
    share = now;
    speed = point.speed.value;
    filling = point.filling.value;
  }
}

TEST_CASE("impossible throttles are refused", "[gas][errors]") {
  CHECK_THROWS_AS(idle_opening(kFour, line_with(0), kWorkshopAir), InputError);
  CHECK_THROWS_AS(idle_opening(kFour, line_with(25e3, 0.9), kWorkshopAir), InputError);
  ThrottleLine line = line_with();
  line.open.area = Area(60e-6);  // idle wants 15 mm2, wide open eight times the speed
  CHECK_THROWS_AS(idle_opening(kFour, line, kWorkshopAir), InputError);
  CHECK_THROWS_AS(point_at_opening(kFour, line_with(), 0.001, kWorkshopAir), InputError);
  CHECK_THROWS_AS(point_at_opening(kFour, line_with(), 1.1, kWorkshopAir), InputError);
}

}  // namespace tickover::gas_throttle_test
