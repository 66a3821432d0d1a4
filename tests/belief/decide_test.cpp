/// @file
/// The narrowed case for planning: close to the whole one, and cheaper.
#include "engine/belief/decide.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/belief/infer.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::belief_decide_test {
namespace {

using test::JobWriter;

const std::string kSound = "CO 3.1% CO2 12.8% HC 250ppm O2 0.6%";
const std::string kLean = "CO 0.3% CO2 9.5% HC 1100ppm O2 7.5%";

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

// The proof in decide.hpp, on cases that can be swept whole as well.
TEST_CASE("the whole case lies within the bounds of a narrowed one", "[belief][decide]") {
  std::size_t told = 0;
  for (std::uint64_t seed = 1; seed <= 24; ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    JobWriter job(test::shipped_sheet("triple-inline"));
    job.record("idle-hunts", "clear");
    if (random.chance(0.5)) job.record("speed-hangs", "slight");
    if (random.chance(0.5)) job.record("spits-back", "yes");
    for (std::size_t c = 1; c <= 3; ++c) {
      job.record("idle-vacuum", random.chance(0.4) ? "22 kPa" : "28.1 kPa", {c});
      job.record("gas-bench-each", random.chance(0.4) ? kLean : kSound, {c});
    }
    const Diagnosis told_of = test::diagnose(job);
    const belief::Case whole = told_of.given();
    const belief::Belief exact = belief::infer(whole);
    REQUIRE(exact.exact);
    for (const std::size_t widest : {exact.width - 1, exact.width - 3}) {
      CAPTURE(widest);
      const belief::Belief narrow = belief::infer_narrowed(whole, widest);
      if (narrow.exact) continue;  // no doubt narrows it so far
      CHECK(narrow.width <= widest);
      for (std::size_t c = 0; c < exact.present_now.size(); ++c) {
        CAPTURE(told_of.model().causes[c].id);
        CHECK(narrow.low[c] <= exact.present_now[c] + 1e-9);
        CHECK(exact.present_now[c] <= narrow.high[c] + 1e-9);
        if (narrow.high[c] - narrow.low[c] < 0.1) ++told;
      }
    }
  }
  CHECK(told > 1000);
}

// Four samples of exhaust gas are too wide to be swept whole: each result moved what it says
// nothing of, since other findings were set aside for it.
TEST_CASE("readings at every cylinder are answered to the per cent", "[belief][decide]") {
  JobWriter job(test::shipped_sheet("four-inline"), {"long-storage"});
  job.record("idle-hunts", "clear").record("speed-hangs", "slight").record("spits-back", "yes");
  for (std::size_t c = 1; c <= 4; ++c) {
    job.record("idle-vacuum", "28 kPa", {c}).record("float-height", "17.5 mm", {c});
    job.record("gas-bench-each", c == 3 ? kLean : kSound, {c});
  }
  const Diagnosis then = test::diagnose(job);
  REQUIRE_FALSE(belief::infer(then.given()).exact);
  CHECK(then.judged().doubt > 0);
  CHECK(then.judged().doubt < 0.05);
  const belief::Belief bounded = belief::infer_narrowed(then.given());
  const belief::Belief before = then.infer();
  CHECK(before.exact);
  for (std::size_t c = 0; c < before.present_now.size(); ++c) {
    CHECK(bounded.low[c] <= before.present_now[c]);
    CHECK(before.present_now[c] <= bounded.high[c]);
    CHECK(bounded.high[c] - bounded.low[c] < 0.05);
  }
  std::vector<belief::Removal> all;
  for (std::size_t c = 0; c < before.present_now.size(); ++c) all.push_back({c, 0, 1, 0});
  belief::Prospects prospects(then.judged(), then.complaint(), bounded.log_evidence);
  const double cured = belief::cured(then.judged(), then.complaint(), all);
  CHECK(prospects.cured(all) == Approx(cured).epsilon(1e-9));
  job.record("mixture-screw-turns", "2.25 turns", {2});
  const Diagnosis now = test::diagnose(job);
  for (std::size_t c = 0; c < before.present_now.size(); ++c) {
    const Place place = now.model().causes[c].place;
    if (place.scope == pack::Scope::engine || place.number == 2) continue;
    CHECK(std::abs(now.infer().present_now[c] - before.present_now[c]) < 0.05);
  }
}

// A and B are hardly both absent, since one of them showed G; each makes F appear, and a sensor all
// but shuts F out. Taken one by one F is improbable, and its absence would leave nothing for G.
TEST_CASE("a case that would contradict itself when narrowed is left whole", "[belief][decide]") {
  belief::Network network;
  network.causes = {{0.1, 0}, {0.1, 0}};
  network.findings = {{{0.0}, {{0, {0.5}}, {1, {0.5}}}}, {{0.0}, {{0, {1.0}}, {1, {1.0}}}}};
  belief::Case whole;
  whole.network = network;
  whole.levels = {{0, 0, 1, 2}};
  whole.soft = {{{1}, 0, {1, 1e-6}, 3}};
  REQUIRE_FALSE(belief::infer(whole).contradiction);
  REQUIRE(belief::infer(belief::decided(whole, 1e-4)).contradiction);  // so it would be
  const std::size_t widest = belief::infer(whole).width - 1;
  const belief::Case narrow = belief::narrowed(whole, widest);
  CHECK(narrow.doubt == 0);
  CHECK_FALSE(belief::infer(narrow).contradiction);
  CHECK_FALSE(belief::infer_narrowed(whole, widest).contradiction);
}

}  // namespace tickover::belief_decide_test
