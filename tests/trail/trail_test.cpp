/// @file
/// The numbers of a trail by a second route: the journal's beginning read anew for every entry, and
/// everything enumerated. Also what is ruled out, and by which entry.
#include "engine/trail/trail.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "engine/belief/enumerate.hpp"
#include "engine/belief/weigh.hpp"
#include "tests/support/exhaustive.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/sheet.hpp"

namespace tickover::trail_trail_test {
namespace {

using test::JobWriter;
using test::Random;
using test::SmallPack;

/// The journal as it stood after `count` entries, but for what was struck later.
Journal beginning(const Journal& journal, std::size_t count) {
  Journal part;
  for (std::size_t i = 0; i < count; ++i) {
    Entry entry = journal.entries[i];
    if (journal.struck[i] || entry.event == Event::strike) {
      entry = {};  // a note in its place keeps the numbers
      entry.number = i + 1;
    }
    take(part, entry, "test");
  }
  return part;
}

/// The standings of the enumerator, most probable first, ties by cause.
std::vector<Standing> standings(const std::vector<long double>& probabilities, double least) {
  std::vector<Standing> all;
  for (std::size_t c = 0; c < probabilities.size(); ++c) {
    const auto p = static_cast<double>(probabilities[c]);
    if (p >= least) all.push_back({c, p});
  }
  std::stable_sort(all.begin(), all.end(), [](const Standing& a, const Standing& b) {
    return a.probability > b.probability + 1e-12;
  });
  return all;
}

void check_standings(const std::vector<Standing>& got, std::vector<Standing> expected,
                     std::size_t most) {
  expected.resize(std::min(most, expected.size()));
  REQUIRE(got.size() == expected.size());
  for (std::size_t i = 0; i < got.size(); ++i) {
    CHECK(got[i].probability == Approx(expected[i].probability).epsilon(1e-10));
    const bool tied = std::count_if(expected.begin(), expected.end(), [&](const Standing& one) {
                        return std::abs(one.probability - expected[i].probability) <= 1e-12;
                      }) > 1;
    if (!tied) CHECK(got[i].cause == expected[i].cause);  // of ties the order is rounding's
  }
}

std::vector<belief::Removal> all_removed(std::size_t causes) {
  std::vector<belief::Removal> all;
  for (std::size_t c = 0; c < causes; ++c) all.push_back({c, 0, 1, 0});
  return all;
}

/// A random small pack and a job on it with looks, a strike, repairs and a verification.
struct Small {
  explicit Small(std::uint64_t seed) {
    Random random(seed);
    pack = test::random_small_pack(random, {5, 4, 3, 3}).pack;
    job.record("symptom-0", "yes").record("symptom-1", random.chance(0.5) ? "yes" : "no");
    job.note("cold start").record("look-2", random.chance(0.5) ? "faulty" : "sound");
    job.record("look-3", random.chance(0.5) ? "faulty" : "sound");
    if (random.chance(0.5)) job.strike(job.last());
    job.repair("repair-0").verify("still").repair("repair-1");
    if (random.chance(0.5)) job.verify("gone");
  }
  pack::Pack pack;
  JobWriter job{test::plain_sheet()};
};

void check_steps(const pack::Pack& pack, const Journal& journal, const Trail& trail) {
  REQUIRE(trail.steps.size() == journal.entries.size());
  for (std::size_t i = 0; i < trail.steps.size(); ++i) {
    const TrailStep& step = trail.steps[i];
    CAPTURE(i);
    CHECK(step.entry == i + 1);
    CHECK(step.struck == journal.struck[i]);
    if (step.struck) {
      CHECK(step.leading.empty());
      continue;
    }
    const Diagnosis then = test::diagnose(pack, beginning(journal, i + 1));
    const belief::Case given = then.given();
    check_standings(step.leading, standings(belief::enumerate(given).present_now, kInQuestion), 3);
    CHECK(step.cured_if_all_repaired.has_value() == (journal.entries[i].event == Event::repair));
    if (!step.cured_if_all_repaired) continue;
    const auto cured = static_cast<double>(belief::enumerate_cured(given, then.complaint(), {}));
    CHECK(*step.cured_if_all_repaired == Approx(cured).epsilon(1e-10));
  }
}

/// The most that each cause was ever thought to be there from the start, the priors included.
std::vector<double> highest(const pack::Pack& pack, const Journal& journal) {
  std::vector<double> most;
  for (const pack::Cause& cause : pack.causes) most.push_back(cause.prior.value);
  for (std::size_t count = 1; count <= journal.entries.size(); ++count) {
    if (journal.struck[count - 1]) continue;
    const belief::Case given = test::diagnose(pack, beginning(journal, count)).given();
    const std::vector<long double> start = belief::enumerate(given).present_at_start;
    for (std::size_t c = 0; c < most.size(); ++c) {
      most[c] = std::max(most[c], static_cast<double>(start[c]));
    }
  }
  return most;
}

double odds_decibans(long double p) { return 10 * static_cast<double>(std::log10(p / (1 - p))); }

/// The entry that moved the odds of `cause` down most, each compared with the entries before it;
/// repairs are acts, known throughout.
std::pair<std::size_t, double> strongest_against(const Diagnosis& job, std::size_t cause) {
  std::pair<std::size_t, double> found{0, 0};
  const belief::Case given = job.given();
  double before = odds_decibans(given.network->causes[cause].prior);
  for (std::size_t entry = 1; entry <= belief::sources(given).back(); ++entry) {
    belief::Case part = given;
    const auto later = [&](const auto& seen) { return seen.source > entry; };
    std::erase_if(part.levels, later);
    std::erase_if(part.soft, later);
    std::erase_if(part.seen, later);
    const double after = odds_decibans(belief::enumerate(part).present_at_start[cause]);
    if (after - before < found.second - 1e-9) found = {entry, after - before};
    before = after;
  }
  return found;
}

void check_ruled_out(const Diagnosis& job, const Trail& trail, const std::vector<double>& most,
                     std::size_t& compared) {
  const std::vector<long double> now = belief::enumerate(job.given()).present_at_start;
  std::size_t expected = 0;
  for (std::size_t c = 0; c < most.size(); ++c) {
    if (most[c] >= kInQuestion && now[c] * 10 <= most[c]) ++expected;
  }
  CHECK(trail.ruled_out.size() == expected);
  for (const RuledOut& one : trail.ruled_out) {
    CAPTURE(one.cause);
    CHECK(one.highest == Approx(most[one.cause]).epsilon(1e-10));
    CHECK(one.now == Approx(static_cast<double>(now[one.cause])).epsilon(1e-9));
    const auto [by, decibans] = strongest_against(job, one.cause);
    CHECK(one.by == by);
    CHECK(one.decibans == Approx(decibans).epsilon(1e-7));
    ++compared;
  }
}

}  // namespace

TEST_CASE("every number of a trail comes out the same by enumeration", "[trail][property]") {
  std::size_t ruled_out = 0, possible = 0;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    CAPTURE(seed);
    const Small small(seed);
    const Journal& journal = small.job.journal();
    const Diagnosis job = test::diagnose(small.pack, journal);
    const Trail trail = make_trail(job, journal);
    const belief::Enumeration now = belief::enumerate(job.given());
    CHECK(trail.contradiction == std::isinf(now.log_evidence));
    if (trail.contradiction) continue;  // gone, though nothing that showed it was repaired
    check_steps(small.pack, journal, trail);
    check_standings(trail.remaining, standings(now.present_now, kInQuestion), 99);
    check_standings(trail.confirmed, standings(now.present_at_start, kConfirmed), 99);
    const auto rest = static_cast<double>(belief::enumerate_cured(
        job.given(), job.complaint(), all_removed(small.pack.causes.size())));
    CHECK(trail.unlisted == Approx(1 - rest).margin(1e-12));
    check_ruled_out(job, trail, highest(small.pack, journal), ruled_out);
    ++possible;
  }
  CHECK(possible > 40);
  CHECK(ruled_out > 20);
}

// Three entries speak against the left of two suspects: an absent symptom a little, a look a lot, a
// second look less. The trail names the look.
TEST_CASE("what is ruled out names the entry that spoke loudest against it", "[trail]") {
  SmallPack small(10, 500);
  for (const double prior : {0.3, 0.2}) small.repair({{{small.cause(prior), 0.9}}, {0, 20}});
  small.symptom(0.01, {{0, 0.9}, {1, 0.9}});
  small.symptom(0.01, {{0, 0.3}});
  small.look({0, 0.98, 0.02, {0, 5}});
  small.look({0, 0.7, 0.1, {0, 5}});
  JobWriter writer(test::plain_sheet());
  writer.record("symptom-0", "yes").record("symptom-1", "no");
  writer.record("look-2", "sound").record("look-3", "sound");
  const Diagnosis job = test::diagnose(small.pack, writer.journal());
  const Trail trail = make_trail(job, writer.journal());
  REQUIRE(trail.ruled_out.size() == 1);
  CHECK(trail.ruled_out.front().cause == 0);
  CHECK(trail.ruled_out.front().by == 4);
  // of one cause alone a look says P(sound | present) / P(sound | absent), whatever else is known
  CHECK(trail.ruled_out.front().decibans == Approx(10 * std::log10(0.02 / 0.98)));
}

TEST_CASE("the trail's JSON says what the trail holds", "[trail]") {
  JobWriter writer(test::shipped_sheet("four-inline"), {}, "it hunts");
  writer.record("idle-hunts", "clear").record("compression", "1130 kPa", {2});
  writer.record("float-height", "19 mm", {3}).record("pilot-jet-look", "clear", {1});
  writer.repair("set-float", {3}).record("float-height", "17.6 mm", {3}).strike(5);
  const Diagnosis job = test::diagnose(writer);
  const Trail trail = make_trail(job, writer.journal());
  const auto json = test::json_of(trail_json(job, writer.journal(), trail));
  CHECK(json.at("report") == "sheet");
  CHECK(json.at("machine") == "four-inline");
  CHECK(json.at("said") == "it hunts");
  CHECK(json.at("complaint") == nlohmann::json({"idle-hunts"}));
  CHECK(json.at("unlisted").get<double>() == Approx(trail.unlisted));
  REQUIRE(json.at("steps").size() == writer.last());
  CHECK(json.at("steps")[4].at("struck") == true);
  CHECK(json.at("steps")[5].at("cured").get<double>() ==
        Approx(*trail.steps[5].cured_if_all_repaired));
  REQUIRE(json.at("bench").size() == 3);
  for (const auto& value : json.at("bench")) {
    const auto entry = value.at("entry").get<std::size_t>();
    CAPTURE(entry);
    CHECK(value.at("as-left") == (entry == 7));
    if (entry == 3) CHECK(value.at("value").get<double>() == Approx(1130));
    if (entry == 4) CHECK(value.at("value").get<double>() == Approx(19));
    if (entry == 7) CHECK(value.at("value").get<double>() == Approx(17.6));
  }
  CHECK(json.at("bench")[0].at("finding") == "float-height@3");
  CHECK(json.at("bench")[0].at("verdict").get<std::string>().starts_with("above "));
}

TEST_CASE("impossible evidence gives a trail that says so", "[trail]") {
  SmallPack small(10, 500);
  small.cause(0.3);
  small.symptom(0, {{0, 1}});
  small.look({0, 1, 0, {0, 5}});
  JobWriter writer(test::plain_sheet());
  writer.record("symptom-0", "yes").record("look-1", "sound");
  const Diagnosis job = test::diagnose(small.pack, writer.journal());
  const Trail trail = make_trail(job, writer.journal());
  CHECK(trail.contradiction);
  CHECK(trail.ruled_out.empty());
  CHECK(trail.steps[1].leading.size() == 1);
}

TEST_CASE("what was seen first stays in its step though a later look replaced it", "[trail]") {
  test::JobWriter first(test::shipped_sheet("four-inline"));
  first.record("idle-hunts", "clear").record("idle-vacuum", "28 kPa", {1, 3, 4});
  first.record("idle-vacuum", "20 kPa", {2});
  test::JobWriter both = first;
  both.record("idle-vacuum", "27.8 kPa", {2});
  const Diagnosis then = test::diagnose(first), now = test::diagnose(both);
  const Trail before = make_trail(then, first.journal()), after = make_trail(now, both.journal());
  REQUIRE(after.steps.size() == 5);
  for (std::size_t i = 0; i < 4; ++i) {
    CAPTURE(i);
    REQUIRE(after.steps[i].leading.size() == before.steps[i].leading.size());
    for (std::size_t k = 0; k < after.steps[i].leading.size(); ++k) {
      CHECK(after.steps[i].leading[k].cause == before.steps[i].leading[k].cause);
      CHECK(after.steps[i].leading[k].probability ==
            Approx(before.steps[i].leading[k].probability).epsilon(1e-12));
    }
  }
  CHECK(after.steps[3].replaced_by == std::vector<std::size_t>{5});
  CHECK_FALSE(after.steps[3].replaced_in_part);
  CHECK(after.steps[2].replaced_by.empty());
  CHECK_THAT(test::sheet_as_markdown(now, both.journal(), after),
             Catch::Contains("cylinder 2: 20 kPa; replaced later by entry 5"));
  CHECK_THAT(trail_json(now, both.journal(), after), Catch::Contains("\"replaced-by\""));
  both.record("idle-vacuum", "28.1 kPa", {3});
  const Diagnosis last = test::diagnose(both);
  CHECK(make_trail(last, both.journal()).steps[2].replaced_in_part);
}

}  // namespace tickover::trail_trail_test
