/// @file
/// The narrowed case for planning: close to the whole one, and cheaper.
#include "engine/belief/decide.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/belief/infer.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover {
namespace {

using test::JobWriter;

JobWriter measured(const std::string& machine, std::size_t cylinders) {
  JobWriter job(test::shipped_sheet(machine));
  job.record("idle-hunts", "clear").record("speed-hangs", "slight");
  for (std::size_t c = 1; c <= cylinders; ++c) {
    job.record("idle-vacuum", c == 2 ? "23.5 kPa" : "28 kPa", {c});
    job.record("float-height", c == 1 ? "19.4 mm" : "17.5 mm", {c});
  }
  return job;
}

}  // namespace

TEST_CASE("what is decided moves no answer by much and narrows the case", "[belief][decide]") {
  const Diagnosis job = test::diagnose(measured("four-inline", 4));
  const belief::Case whole = job.given();
  const belief::Belief exact = belief::infer(whole);
  REQUIRE(exact.exact);
  for (const double doubt : {0.0, 1e-3, 1e-2}) {
    CAPTURE(doubt);
    const belief::Belief narrow = belief::infer(belief::decided(whole, doubt));
    CHECK(narrow.width <= exact.width);
    const double sensed = 8;
    for (std::size_t c = 0; c < exact.present_now.size(); ++c) {
      CAPTURE(job.model().causes[c].id);
      const double off = std::abs(narrow.present_now[c] - exact.present_now[c]);
      CHECK(off <= sensed * doubt + 1e-9);
    }
  }
  CHECK(belief::infer(belief::decided(whole, 1e-2)).width < exact.width);
}

TEST_CASE("a case without sensors is left as it is", "[belief][decide]") {
  JobWriter job(test::shipped_sheet("six-inline"));
  job.record("idle-hunts", "clear");
  const belief::Case whole = test::diagnose(job).given();
  const belief::Case same = belief::decided(whole, 0.01);
  CHECK(same.levels.size() == whole.levels.size());
  CHECK(same.soft.empty());
}

}  // namespace tickover
