/// @file
/// Strengths of links over throttle positions against the shift of mixture that engine/gas
/// computes: where a cause shifts it half as much again, its symptom must not be weaker.
#include <catch2/catch.hpp>
#include <numbers>

#include "engine/gas/float_level.hpp"
#include "engine/gas/jet.hpp"
#include "engine/gas/leak.hpp"
#include "engine/gas/throttle.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::practice_physics_test {
namespace {

/// From idle to wide open.
using Positions = std::vector<double>;
const std::vector<std::string> kSymptoms = {"idle-hunts", "flat-spot-off-idle", "steady-surge",
                                            "weak-wide-open"};
constexpr double kClearlyMore = 1.5;

const Air kAir{Pressure(101325), Temperature(293.15)};
const Engine kCylinder{Volume(162e-6), 1};
const Density kPetrol{745};
/// A 32 mm throttle: idle at 1100 rpm under 25 kPa of vacuum, 9000 rpm wide open.
const ThrottleLine kLine = {{Frequency(1100.0 / 60), Pressure(76325), Fraction(0.22)},
                            Frequency(9000.0 / 60),
                            Fraction(0.85),
                            {Area(804e-6), 0.8}};

std::vector<OperatingPoint> points() {
  const double idle = idle_opening(kCylinder, kLine, kAir);
  std::vector<OperatingPoint> all;
  for (const double opening : {idle, 2 * idle, 8 * idle, 1.0}) {
    all.push_back(point_at_opening(kCylinder, kLine, opening, kAir));
  }
  return all;
}

/// lambda over lambda without the hole, less 1.
Positions leak_shift() {
  Positions shift;
  for (const OperatingPoint& point : points()) {
    const Orifice hole{circle_area(Length(0.7e-3)), 0.65};
    shift.push_back(leak_effect(hole, kCylinder, point, kAir).cylinder_lambda_factor - 1);
  }
  return shift;
}

/// What two circuits deliver: the pilot under the manifold's vacuum, of which its bleed leaves a
/// tenth, and the main one under that of a 26 mm venturi, less 6 mm of lift, through the narrower
/// of needle gap and jet (a gap growing with the opening, wider than the jet at the end).
struct Delivery {
  double pilot = 0, main = 0;
  bool jet_governs = false;
};

std::vector<Delivery> deliveries() {
  std::vector<Delivery> all;
  const std::vector<double> gap = {0, 0.3e-3, 0.6e-3, 1.3e-3};
  for (std::size_t i = 0; i < gap.size(); ++i) {
    const OperatingPoint point = points()[i];
    const Pressure vacuum(0.1 * (kAir.pressure.value - point.manifold.value));
    const double air = engine_air_flow(kCylinder, point, kAir).value;
    const double throat = air / (0.8 * std::numbers::pi / 4 * 26e-3 * 26e-3);
    const double signal = throat * throat / (2 * 1.204) - fuel_head(Length(6e-3), kPetrol).value;
    Delivery delivery;
    delivery.pilot = jet_flow({Length(0.38e-3)}, vacuum, kPetrol).value;
    delivery.jet_governs = gap[i] > 1.05e-3;
    const Length bore(std::min(gap[i], 1.05e-3));
    if (signal > 0 && bore.value > 0)
      delivery.main = jet_flow({bore}, Pressure(signal), kPetrol).value;
    all.push_back(delivery);
  }
  return all;
}

/// A jet that passes 30 % less: that share of what its circuit delivers is missing.
Positions pilot_shift() {
  Positions shift;
  for (const Delivery& one : deliveries())
    shift.push_back(0.3 * one.pilot / (one.pilot + one.main));
  return shift;
}

Positions main_jet_shift() {
  Positions shift;
  for (const Delivery& one : deliveries()) {
    shift.push_back(one.jet_governs ? 0.3 * one.main / (one.pilot + one.main) : 0.0);
  }
  return shift;
}

/// Fuel 3 mm too low. Idle draws under kilopascals; the main nozzle begins under some hundred
/// pascals, which is where level tells; at speed the signal is large again.
Positions float_shift() {
  Positions shift;
  for (const double signal : {2500.0, 300.0, 600.0, 5000.0}) {
    const LevelEffect effect =
        level_effect({Pressure(signal), Length(6e-3), kPetrol}, Length(-3e-3));
    REQUIRE(effect.lambda_factor);
    shift.push_back(*effect.lambda_factor - 1);
  }
  return shift;
}

double total_strength(const std::string& symptom, const std::string& cause) {
  const pack::Pack& pack = test::shipped_pack();
  double sum = 0;
  for (const pack::Finding& finding : pack.findings) {
    if (finding.id != symptom) continue;
    for (const pack::Link& link : finding.links) {
      if (pack.causes[link.cause].id != cause) continue;
      for (const pack::Number& level : link.strength) sum += level.value;
    }
  }
  return sum;
}

/// `positions`: how many of them, from idle, the mixture alone decides.
void check_order(const Positions& shift, const std::string& cause, std::size_t positions = 4) {
  for (std::size_t a = 0; a < positions; ++a) {
    for (std::size_t b = 0; b < positions; ++b) {
      if (!(shift[a] > kClearlyMore * shift[b] + 1e-4)) continue;
      CAPTURE(cause, kSymptoms[a], kSymptoms[b], shift[a], shift[b]);
      CHECK(total_strength(kSymptoms[a], cause) >= total_strength(kSymptoms[b], cause));
    }
  }
}

}  // namespace

TEST_CASE("leaks tell by throttle as their share of the air", "[practice][physics]") {
  const Positions shift = leak_shift();
  CHECK(shift[0] > 3 * shift[2]);  // the order is no matter of rounding
  for (const std::string cause :
       {"intake-rubber-cracked", "intake-clamp-loose", "intake-joint-seal-bad", "vacuum-port-open",
        "throttle-shaft-worn", "balance-pipe-leak", "forked-manifold-leak", "advance-hose-leak",
        "carburettor-joint-leak", "inlet-guide-air", "pilot-screw-seal-missing"}) {
    check_order(shift, cause);
  }
}

TEST_CASE("jets tell by throttle as their share of the fuel", "[practice][physics]") {
  const Positions pilot = pilot_shift(), main = main_jet_shift();
  CHECK(pilot[0] > 3 * pilot[3]);
  for (const std::string cause : {"pilot-jet-blocked", "pilot-jet-wrong-size", "pilot-screw-lean",
                                  "pilot-air-jet-loose", "pilot-screw-tip-broken"}) {
    check_order(pilot, cause);
  }
  CHECK(main[3] > 0.1);
  for (const std::string cause : {"main-jet-blocked", "main-jet-wrong-size"}) {
    check_order(main, cause);
  }
}

// Wide open a low level is felt by running short, which is no matter of the head.
TEST_CASE("a low float tells where the signal is small", "[practice][physics]") {
  const Positions shift = float_shift();
  CHECK(shift[1] > 3 * shift[0]);
  check_order(shift, "float-level-low", 3);
}

}  // namespace tickover::practice_physics_test
