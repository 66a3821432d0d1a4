/// @file
/// Readings: their densities, what a single one can do, and how a slip of the pen is met.
#include "engine/evidence/reading.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <numbers>

#include "engine/evidence/foresee.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::evidence_reading_test {
namespace {

using Curve = double ReadingLikelihood::*;
constexpr Curve kCurves[] = {&ReadingLikelihood::still, &ReadingLikelihood::low,
                             &ReadingLikelihood::high, &ReadingLikelihood::both};

/// Composite midpoint rule: shares nothing with the engine's Simpson.
double integral(const std::function<double(double)>& f, double from, double to, int slices) {
  const double width = (to - from) / slices;
  double sum = 0;
  for (int i = 0; i < slices; ++i) sum += f(from + (i + 0.5) * width);
  return sum * width;
}

Model model_of(const std::string& machine) {
  return build_model(test::shipped_pack(),
                     load_machine(test::shipped_sheet(machine), test::machine_schema(), machine),
                     {});
}

/// Calls `visit` with every reading instance at the first of its places, on every machine.
void for_readings(const std::function<void(const Model&, const FindingInstance&)>& visit) {
  std::size_t visited = 0;
  for (const std::string& machine : test::shipped_machines()) {
    CAPTURE(machine);
    const Model model = model_of(machine);
    for (const FindingInstance& instance : model.findings) {
      const bool reading = model.pack.findings[instance.finding].kind == pack::Kind::reading;
      if (!reading || instance.place.number > 1) continue;
      CAPTURE(instance.id);
      visit(model, instance);
      ++visited;
    }
  }
  CHECK(visited >= 5 * test::shipped_machines().size());
}

double floor_of(const ReadingModel& reading) {
  return reading.slip / (reading.plausible_high - reading.plausible_low);
}

/// A wide range about the wanted value, in which all of every density lies but e^-40.
std::pair<double, double> nearly_all(const ReadingModel& r) {
  const double spread = std::hypot(r.tolerance / 2, r.instrument);
  const double way = r.tolerance + 12 * spread + 40 * std::max(r.shift_low, r.shift_high);
  return {r.wanted - way, r.wanted + way};
}

/// The refusal of `text` as rule and hint, or "" when it is taken.
std::string refusal(const Model& model, const std::string& id, const std::string& text) {
  try {
    parse_reading(model, test::finding_instance(model, id), text);
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::usage);
    return error.rule() + " | " + error.hint();
  }
  return {};
}

/// The four-inline machine has wanted values of its own; these tests read them from it.
double wanted_of(const Model& model, const std::string& key) {
  const Wanted& wanted = model.machine.wanted.at(key);
  return in_unit(wanted.value, wanted.unit);
}

double normal(double x) { return std::exp(-x * x / 2) / std::sqrt(2 * std::numbers::pi); }

/// A standard normal deviate plus an exponential one of mean `tail`, by numerical convolution.
double blurred_tail(double x, double tail) {
  const auto f = [&](double way) { return std::exp(-way / tail) / tail * normal(x - way); };
  // all that matters lies near x, or near 0 where the tail is short
  const double to = std::max(x, 0.0) + 12;
  return integral(f, std::max(x - 12, 0.0), std::min(to, std::max(x - 12, 0.0) + 60 * tail), 40000);
}

}  // namespace

TEST_CASE("every density integrates to 1, the slips over the plausible range apart",
          "[evidence][reading]") {
  for_readings([](const Model& model, const FindingInstance& instance) {
    const ReadingModel reading = reading_model(model, instance);
    const auto [from, to] = nearly_all(reading);
    for (const Curve curve : kCurves) {
      const auto speaking = [&](double value) {
        return (likelihood(reading, value).*curve - floor_of(reading)) / (1 - reading.slip);
      };
      CHECK(integral(speaking, from, to, 20000) == Approx(1).epsilon(1e-5));
    }
  });
}

TEST_CASE("a moved value is an exponential way blurred by the instrument", "[evidence][reading]") {
  for (const double tail : {0.01, 0.05, 0.3, 1.0, 4.0, 30.0}) {
    CAPTURE(tail);
    const ReadingModel reading{0, 1, 1, tail, tail, -1000, 1000, 0};
    for (const double beyond : {-6.0, -2.0, -0.5, 0.0, 0.7, 3.0, 8.0, 25.0}) {
      CAPTURE(beyond);
      const double expected = blurred_tail(beyond, tail);
      CHECK(likelihood(reading, -1 - beyond).low == Approx(expected).epsilon(1e-4).margin(1e-14));
      CHECK(likelihood(reading, 1 + beyond).high == Approx(expected).epsilon(1e-4).margin(1e-14));
    }
  }
}

TEST_CASE("no reading can do more than the slips allow", "[evidence][reading]") {
  for_readings([](const Model& model, const FindingInstance& instance) {
    const ReadingModel reading = reading_model(model, instance);
    REQUIRE(reading.slip > 0);
    constexpr int kSteps = 2000;
    const double width = (reading.plausible_high - reading.plausible_low) / kSteps;
    double peak = 0, least = 1e300, ratio = 0;
    for (int i = 0; i <= kSteps; ++i) {
      const ReadingLikelihood l = likelihood(reading, reading.plausible_low + i * width);
      const auto [low, high] = std::minmax({l.still, l.low, l.high, l.both});
      peak = std::max(peak, high);
      least = std::min(least, low);
      ratio = std::max(ratio, high / low);
    }
    CHECK(least >= floor_of(reading));
    CHECK(ratio <= peak / floor_of(reading));
    CHECK(10 * std::log10(ratio) <= cap_decibans(reading));
    CHECK(cap_decibans(reading) <= cap_decibans(model.pack.findings[instance.finding]) + 1e-9);
  });
}

// Away from the wanted value the reading speaks ever more for "moved that way", until both say so
// little that only the slips are left; it never turns back twice.
TEST_CASE("a reading speaks the more for a fault the further off it is, up to the tail",
          "[evidence][reading]") {
  for_readings([](const Model& model, const FindingInstance& instance) {
    const ReadingModel reading = reading_model(model, instance);
    for (const bool low : {true, false}) {
      if (!((low ? reading.shift_low : reading.shift_high) > 0)) continue;
      const double end = low ? reading.plausible_low : reading.plausible_high;
      double before = 0;
      bool falling = false;
      int turns = 0;
      for (int i = 0; i <= 1000; ++i) {
        const double value = reading.wanted + (end - reading.wanted) * i / 1000;
        const ReadingLikelihood l = likelihood(reading, value);
        const double speaks = (low ? l.low : l.high) / l.still;
        const bool falls = speaks < before * (1 - 1e-9);
        const bool rises = speaks > before * (1 + 1e-9);
        if ((falls && !falling) || (rises && falling)) ++turns;
        if (falls || rises) falling = falls;
        before = speaks;
      }
      CHECK(turns <= 1);
      CHECK((low ? likelihood(reading, reading.wanted).low
                 : likelihood(reading, reading.wanted).high) <
            likelihood(reading, reading.wanted).still);
    }
  });
}

TEST_CASE("the three sides of a reading share each state's probability", "[evidence][reading]") {
  for_readings([](const Model& model, const FindingInstance& instance) {
    const ReadingModel r = reading_model(model, instance);
    const std::vector<ReadingLikelihood> sides = side_likelihoods(model, instance);
    REQUIRE(sides.size() == 3);
    const double edges[] = {r.plausible_low, std::max(r.wanted - r.tolerance, r.plausible_low),
                            std::min(r.wanted + r.tolerance, r.plausible_high), r.plausible_high};
    for (const Curve curve : kCurves) {
      CHECK(sides[0].*curve + sides[1].*curve + sides[2].*curve == Approx(1));
      const auto f = [&](double value) { return likelihood(r, value).*curve; };
      const double whole = integral(f, edges[0], edges[3], 20000);
      for (std::size_t side = 0; side < 3; ++side) {
        CAPTURE(side);
        const double share = integral(f, edges[side], edges[side + 1], 10000) / whole;
        CHECK(sides[side].*curve == Approx(share).margin(1e-3));
        CHECK(sides[side].*curve >= 0);
      }
    }
    if (r.shift_low > 0) CHECK(sides[0].low > sides[0].still);
    if (r.shift_high > 0) CHECK(sides[2].high > sides[2].still);
  });
}

TEST_CASE("a reading is taken with its unit, and not without", "[evidence][reading]") {
  const Model model = model_of("four-inline");
  const FindingInstance& height = test::finding_instance(model, "float-height@1");
  CHECK(parse_reading(model, height, "17.5 mm") == Approx(0.0175));
  CHECK(parse_reading(model, height, "17,5mm") == Approx(0.0175));
  CHECK(parse_reading(model, height, "0.69 in") == Approx(0.69 * 0.0254));
  const FindingInstance& pressure = test::finding_instance(model, "compression@2");
  CHECK(parse_reading(model, pressure, "11.5 bar") == Approx(1.15e6));
  // 167 may have been read in psi, and is in kPa no pressure an engine runs on
  CHECK_THAT(refusal(model, "compression@2", "167"),
             Catch::Contains("'167' has no unit") && Catch::Contains("such as 167 kPa"));
  const FindingInstance& screw = test::finding_instance(model, "mixture-screw-turns@1");
  CHECK(parse_reading(model, screw, "2 3/4") == parse_reading(model, screw, "2.75 turns"));
}

TEST_CASE("a reading that cannot be is refused, and the probable slip named",
          "[evidence][reading]") {
  const Model model = model_of("four-inline");
  const double height = wanted_of(model, "float-height");
  const std::string shown = format_quantity(quantity_in(height, "mm"), "mm", 4);
  CHECK_THAT(refusal(model, "float-height@1", shortest(10 * height) + " mm"),
             Catch::Contains("'float-height' cannot be") &&
                 Catch::Contains("did you mean " + shown + "?"));
  // 1150 entered in bar instead of kPa
  CHECK_THAT(refusal(model, "compression@1", "1150 bar"),
             Catch::Contains("did you mean 1150 kPa?"));
  // the slips of the issue: a lost point, an inch taken for a millimetre, half an inch for the
  // other
  CHECK_THAT(refusal(model, "float-height@1", "146 mm"), Catch::Contains("did you mean 14.6 mm?"));
  CHECK_THAT(refusal(model, "float-height@1", "1.46 mm"), Catch::Contains("did you mean 14.6 mm?"));
  CHECK_THAT(refusal(model, "float-height@1", "17.5 in"), Catch::Contains("did you mean 17.5 mm?"));
  CHECK_THAT(refusal(model, "float-height@1", "0.69 mm"), Catch::Contains("did you mean 0.69 in?"));
  CHECK_THAT(refusal(model, "mixture-screw-turns@1", "27 turns"),
             Catch::Contains("did you mean 2.7 turns?"));
  CHECK_THAT(refusal(model, "header-temperature@1", "2100 degC"),
             Catch::Contains("did you mean 210 degC?"));
  CHECK_THAT(refusal(model, "float-height@1", "-900 mm"),
             Catch::Contains("cannot be") && !Catch::Contains("did you mean"));
  CHECK_THAT(refusal(model, "float-height@1", "12 bar"), Catch::Contains("length"));
  CHECK_FALSE(refusal(model, "float-height@1", "high").empty());
}

TEST_CASE("the verdict names the limit", "[evidence][reading]") {
  const Model model = model_of("four-inline");
  const FindingInstance& height = test::finding_instance(model, "float-height@1");
  const Wanted& wanted = model.machine.wanted.at("float-height");
  const double low = wanted.value.si - wanted.tolerance, high = wanted.value.si + wanted.tolerance;
  const auto text = [](double si) { return format_quantity({si, Dimension::length}, "mm", 4); };
  const auto verdict_on = [&](double value) {
    Observation seen;
    seen.finding = static_cast<std::size_t>(&height - model.findings.data());
    seen.reading = value;
    return verdict(model, seen);
  };
  CHECK(verdict_on(low - 1e-4).text == "below " + text(low));
  CHECK(verdict_on(high + 1e-4).text == "above " + text(high));
  CHECK(verdict_on(wanted.value.si).text == "within " + text(low) + " to " + text(high));
  CHECK(verdict_on(high + 1e-4).beyond);
  CHECK_FALSE(verdict_on(wanted.value.si).beyond);
}

TEST_CASE("a value far out of the ordinary asks to be confirmed", "[evidence][reading]") {
  const ReadingModel reading{10, 1, 0.1, 2, 0.5, -100, 100, 0.01};
  CHECK_FALSE(needs_confirmation(reading, 10 + 1 + 4 * 2));
  CHECK(needs_confirmation(reading, 10 + 1 + 4 * 2 + 0.01));
  CHECK(needs_confirmation(reading, 10 - 1 - 4 * 2 - 0.01));
}

TEST_CASE("a reading on which both states agree tells nothing", "[evidence][reading]") {
  test::JobWriter before(test::shipped_sheet("four-inline"));
  before.record("speed-hangs", "clear");
  const Diagnosis job = test::diagnose(before);
  const ReadingModel play =
      reading_model(job.model(), test::finding_instance(job.model(), "cable-free-play"));
  double from = play.wanted - 3 * play.tolerance, to = play.wanted;  // moved there, in order here
  for (int i = 0; i < 60; ++i) {
    const double middle = (from + to) / 2;
    const ReadingLikelihood density = likelihood(play, middle);
    (density.low > density.still ? from : to) = middle;
  }
  test::JobWriter after = before;
  after.record("cable-free-play", shortest(1e3 * to) + " mm");
  const belief::Belief then = job.infer(), now = test::diagnose(after).infer();
  for (std::size_t c = 0; c < then.present_now.size(); ++c) {
    CHECK(now.present_now[c] == Approx(then.present_now[c]).epsilon(1e-9));
  }
}

}  // namespace tickover::evidence_reading_test
