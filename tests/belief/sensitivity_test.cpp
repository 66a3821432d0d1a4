/// @file
/// Which number matters most: each leverage against the answer recomputed with that number changed
/// in the pack, and none with a range left out.
#include "engine/belief/sensitivity.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/cases.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::belief_sensitivity_test {
namespace {

using test::SmallPack;

void widen(pack::Number& number, const std::string& place) {
  number.low = number.value / 2;
  number.high = (1 + number.value) / 2;
  number.place = place;
}

/// Two causes behind one symptom, one with a look, every number that counts with a range.
pack::Pack ranged_pack() {
  SmallPack small(10, 500);
  small.cause(0.1);
  small.cause(0.06);
  small.symptom(0.02, {{0, 0.6}, {1, 0.8}});
  small.look({1, 0.9, 0.2, {1, 0}});
  pack::Pack& pack = small.pack;
  widen(pack.causes[0].prior, "a");
  widen(pack.causes[1].prior, "b");
  widen(pack.findings[0].leak[0], "c");
  widen(pack.findings[0].links[0].strength[0], "d");
  widen(pack.findings[0].links[1].strength[0], "e");
  widen(pack.findings[1].outcomes[1].present, "f");
  widen(pack.findings[1].outcomes[1].absent, "g");
  return pack;
}

pack::Number& at(pack::Pack& pack, const std::string& place) {
  if (place == "a") return pack.causes[0].prior;
  if (place == "b") return pack.causes[1].prior;
  if (place == "c") return pack.findings[0].leak[0];
  if (place == "d") return pack.findings[0].links[0].strength[0];
  if (place == "e") return pack.findings[0].links[1].strength[0];
  return place == "f" ? pack.findings[1].outcomes[1].present : pack.findings[1].outcomes[1].absent;
}

Journal seen() {
  test::JobWriter job(test::plain_sheet());
  job.record("symptom-0", "yes").record("look-1", "faulty");
  return job.journal();
}

belief::Belief with(pack::Pack pack, const std::string& place, double value) {
  at(pack, place).value = value;
  return test::diagnose(pack, seen()).infer();
}

std::size_t leader(const belief::Belief& belief) {
  return static_cast<std::size_t>(
      std::max_element(belief.present_now.begin(), belief.present_now.end()) -
      belief.present_now.begin());
}

}  // namespace

TEST_CASE("a leverage is the answer at the ends of the number's range", "[belief][sensitivity]") {
  const pack::Pack pack = ranged_pack();
  const Diagnosis job = test::diagnose(pack, seen());
  for (std::size_t cause = 0; cause < 2; ++cause) {
    const auto all = belief::sensitivity(job.model(), job.evidence(), cause, 100).largest;
    CHECK(all.size() == 7);
    double last = 1;
    for (const belief::Leverage& one : all) {
      CAPTURE(one.what, one.place);
      const belief::Belief low = with(pack, one.place, one.low);
      const belief::Belief high = with(pack, one.place, one.high);
      CHECK(one.at_low == Approx(low.present_now[cause]).epsilon(1e-12));
      CHECK(one.at_high == Approx(high.present_now[cause]).epsilon(1e-12));
      CHECK(one.leader_at_low == leader(low));
      CHECK(one.leader_at_high == leader(high));
      CHECK(std::abs(one.at_high - one.at_low) <= last);
      last = std::abs(one.at_high - one.at_low);
    }
  }
}

TEST_CASE("numbers without a range, and of what was not looked at, have no leverage",
          "[belief][sensitivity]") {
  pack::Pack pack = ranged_pack();
  pack.causes[0].prior.low = pack.causes[0].prior.high = pack.causes[0].prior.value;
  test::JobWriter writer(test::plain_sheet());
  writer.record("symptom-0", "yes");
  const Diagnosis job = test::diagnose(pack, writer.journal());
  std::string places;
  for (const belief::Leverage& one :
       belief::sensitivity(job.model(), job.evidence(), 0, 100).largest) {
    places += one.place;
  }
  std::sort(places.begin(), places.end());
  CHECK(places == "bcde");
}

TEST_CASE("only as many leverages as asked for, the largest", "[belief][sensitivity]") {
  test::JobWriter refitted(test::shipped_sheet("twin-parallel"), {"long-storage"});
  refitted.record("speed-hangs", "clear").record("idle-hunts", "clear");
  refitted.record("pilot-jet-look", "shut", {1}).repair("clean-pilot", {1}).refit();
  refitted.record("speed-hangs", "none").record("idle-hunts", "slight");
  test::JobWriter found(test::shipped_sheet("four-inline"), {"long-storage"});
  found.record("flat-spot-off-idle", "clear").record("cold-header", "cold", {2});
  for (const auto& job :
       {test::diagnose(ranged_pack(), seen()), test::diagnose(found), test::diagnose(refitted)}) {
    const std::size_t asked = job.model().causes.size() > 2 ? 3 : 2;
    if (test::kSanitized && job.model().causes.size() > 100) continue;  // the four takes its time
    for (std::size_t cause = 0; cause < job.model().causes.size(); cause += 97) {
      const auto all = belief::sensitivity(job.model(), job.evidence(), cause, 1000).largest;
      const auto few = belief::sensitivity(job.model(), job.evidence(), cause, asked).largest;
      REQUIRE(few.size() == asked);
      for (std::size_t i = 0; i < few.size(); ++i) {
        CHECK(few[i].place == all[i].place);
        CHECK(few[i].at_low == all[i].at_low);
        CHECK(few[i].at_high == all[i].at_high);
      }
    }
  }
}

}  // namespace tickover::belief_sensitivity_test
