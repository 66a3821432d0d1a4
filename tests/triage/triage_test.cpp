/// @file
/// Riders' sentences, all invented, read with the shipped words; and the rules of reading.
#include "engine/triage/triage.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/knowledge.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::triage_triage_test {
namespace {

using triage::Language;
using triage::Standing;
using triage::Triage;

const Language& shipped_language() {
  static const Language language =
      triage::load_language(test::source_text("knowledge/carburettor/language.json"),
                            test::schema_text("pack"), "language.json");
  return language;
}

std::vector<std::size_t> all_symptoms(const pack::Pack& pack) {
  std::vector<std::size_t> symptoms;
  for (std::size_t i = 0; i < pack.findings.size(); ++i) {
    if (pack.findings[i].kind == pack::Kind::symptom) symptoms.push_back(i);
  }
  return symptoms;
}

Triage heard(const std::string& text) {
  const pack::Pack& pack = test::shipped_pack();
  return triage::triage(pack, shipped_language(), text, all_symptoms(pack));
}

using Ids = std::vector<std::string>;

/// Ids of the symptoms heard with that standing, sorted.
Ids ids(const Triage& triage, Standing standing) {
  Ids out;
  for (const triage::Heard& one : triage.heard) {
    if (one.standing == standing) out.push_back(test::shipped_pack().findings[one.finding].id);
  }
  std::sort(out.begin(), out.end());
  return out;
}

bool has(const Ids& list, const std::string& id) {
  return std::find(list.begin(), list.end(), id) != list.end();
}

/// The symptom is heard with that standing.
void check_heard(const std::string& text, const std::string& id,
                 Standing standing = Standing::said) {
  const Triage triage = heard(text);
  CAPTURE(text, id, ids(triage, Standing::said), ids(triage, Standing::unclear),
          ids(triage, Standing::denied), triage.not_understood);
  CHECK(has(ids(triage, standing), id));
}

/// A pack of two symptoms, "hunts" at idle and "surges" on the road, with these words.
pack::Pack two_symptoms(const std::vector<pack::Words>& words) {
  test::SmallPack small(10, 500);
  small.symptom(0.1, {});
  small.symptom(0.1, {});
  small.pack.findings[0].when = {"idle", "warm", "stand"};
  small.pack.findings[1].when = {"steady", "warm", "road"};
  small.pack.words = words;
  return small.pack;
}

}  // namespace

TEST_CASE("riders' sentences find their symptoms", "[triage]") {
  check_heard("it hangs up after a blip, pops when I shut off", "speed-hangs");
  check_heard("it hangs up after a blip, pops when I shut off", "overrun-popping");
  check_heard("She won't come back to idle when I blip it, the revs hang", "speed-hangs");
  check_heard("Revs hung for ages before dropping", "speed-hangs");
  check_heard("The exhaust is popping on deceleration", "overrun-popping");
  check_heard("Backfires through the muffler when I roll off", "overrun-popping");
  check_heard("Idle keeps hunting", "idle-hunts");
  check_heard("up and down goes the idle", "idle-hunts");
  check_heard("Surging at steady throttle on the highway", "steady-surge");
  check_heard("there is a flatspot just as I open it", "flat-spot-off-idle");
  check_heard("it bogs down when I crack the throttle", "flat-spot-off-idle");
  check_heard("always dies at the traffic light", "stalls-at-stop");
  check_heard("It conked out at every junction", "stalls-at-stop");
  check_heard("it sneezes back through the carburetor", "spits-back");
  check_heard("Only runs with the enricher on", "better-with-choke");
  check_heard("won't rev out any more", "weak-wide-open");
  check_heard("wont rev out", "weak-wide-open");
  check_heard("no top end at all", "weak-wide-open");
  check_heard("runs out of gas on the freeway", "fades-under-load");
  check_heard("one of the headers stays cold", "cold-header");
  check_heard("blowing black smoke", "rich-signs");
  check_heard("it's pinging", "pinks");
  check_heard("THE REVS HANG!!!", "speed-hangs");
}

TEST_CASE("what is said not to be there is never proposed as there", "[triage]") {
  for (const std::string text :
       {"it does not pop on the over-run", "It doesn't pop when I shut off.",
        "no popping on deceleration", "never pops on the overrun",
        "it didn\xE2\x80\x99t ever pop on the over-run", "without any popping on the over-run",
        "popping on the over-run has stopped", "it no longer pops when I back off",
        "it isn't popping or banging on the over-run"}) {
    CAPTURE(text);
    const Triage triage = heard(text);
    CHECK(has(ids(triage, Standing::denied), "overrun-popping"));
    CHECK_FALSE(has(ids(triage, Standing::said), "overrun-popping"));
  }
  CHECK(has(ids(heard("it hardly pops on the over-run"), Standing::denied), "overrun-popping"));
  CHECK(has(ids(heard("it misses when I pull hard and pops on the over-run"), Standing::said),
            "overrun-popping"));  // hard is not hardly
  // beyond a comma or far away nobody can tell: it is asked, not proposed
  for (const std::string text :
       {"It doesn't, as far as I can tell, pop on the over-run",
        "not one of my friends who rode along that day ever heard it pop on the over-run"}) {
    CAPTURE(text);
    CHECK_FALSE(has(ids(heard(text), Standing::said), "overrun-popping"));
  }
}

TEST_CASE("a denial ends where another statement begins", "[triage]") {
  const std::vector<std::string> texts = {
      "It does not pop on the over-run. The revs hang.",
      "It does not pop on the over-run but the revs hang",
      "It does not pop on the over-run, it hangs after a blip",
      "It does not pop on the over-run and it hangs after a blip"};
  for (const std::string& text : texts) {
    CAPTURE(text);
    const Triage triage = heard(text);
    CHECK(ids(triage, Standing::said) == Ids{"speed-hangs"});
    CHECK(ids(triage, Standing::denied) == Ids{"overrun-popping"});
  }
}

TEST_CASE("a phrase that holds a denial needs it, and turns nothing else round", "[triage]") {
  check_heard("the grip does not snap back", "throttle-lazy");
  CHECK(heard("the grip snaps back").heard.empty());
  const Triage both = heard("it will not rev out and pops on the over-run");
  CHECK(ids(both, Standing::said) == Ids{"overrun-popping", "weak-wide-open"});
}

TEST_CASE("a denial within a phrase comes before what it denies", "[triage]") {
  CHECK(ids(heard("The idle is fine, no popping at all"), Standing::said) == Ids{});
  CHECK(ids(heard("No tick-over"), Standing::said) == Ids{"idles-only-propped"});
  // the idle is told by itself, and is no condition of the popping
  CHECK(ids(heard("The idle is fine, no popping at all"), Standing::denied) ==
        Ids{"overrun-popping"});
  CHECK(ids(heard("It will not idle"), Standing::said) == Ids{"idles-only-propped"});
}

TEST_CASE("said once and denied once counts as said", "[triage]") {
  const Triage triage =
      heard("It does not pop on the over-run. Yesterday it pops on the over-run.");
  CHECK(ids(triage, Standing::said) == Ids{"overrun-popping"});
}

TEST_CASE("words that no symptom used are named, once", "[triage]") {
  const Triage triage = heard("The wombat hangs the revs, wombat! Zyzzyva.");
  CHECK(triage.not_understood == Ids{"wombat", "zyzzyva"});
  CHECK(heard("").not_understood.empty());
  CHECK(heard("it is the engine").not_understood.empty());
}

TEST_CASE("the same words for two symptoms ask for the condition that parts them", "[triage]") {
  const pack::Pack pack = two_symptoms({{"goes up and down", {0, 1}}});
  const auto read = [&](const std::string& text) {
    return triage::triage(pack, shipped_language(), text, {0, 1});
  };
  const Triage open = read("it goes up and down");
  CHECK(open.heard.size() == 2);
  REQUIRE(open.missing.size() == 1);  // load differs too, but one answer is enough
  CHECK(shipped_language().questions[open.missing[0].question].condition == "throttle");
  using Options = std::vector<std::pair<std::string, std::size_t>>;
  CHECK(open.missing[0].options == Options{{"idle", 0}, {"steady", 1}});

  const Triage idle = read("it goes up and down when ticking over");
  REQUIRE(idle.heard.size() == 1);
  CHECK(idle.heard[0].finding == 0);
  CHECK(idle.missing.empty());
  const Triage road = read("goes up and down on the motorway");
  REQUIRE(road.heard.size() == 1);
  CHECK(road.heard[0].finding == 1);
  // the condition of another sentence does not count
  CHECK(read("goes up and down. I came by motorway.").heard.size() == 2);
  CHECK(read("it does not go up and down").missing.empty());
}

TEST_CASE("a phrase without its condition is heard, and the condition asked for", "[triage]") {
  const pack::Pack pack =
      two_symptoms({{"wobbles at idle", {0}}, {"wobbles on the motorway", {1}}});
  const auto read = [&](const std::string& text) {
    return triage::triage(pack, shipped_language(), text, {0, 1});
  };
  const Triage open = read("it wobbles");
  CHECK(open.heard.size() == 2);
  CHECK(open.missing.size() == 1);
  CHECK(read("wobbles while cruising").heard.size() == 1);
  CHECK(read("wobbles at full throttle").heard.empty());
  const Triage pops = heard("it pops");
  CHECK(ids(pops, Standing::said) == Ids{"overrun-popping"});
  REQUIRE(pops.missing.size() == 1);
  CHECK(pops.missing[0].options.front().first == "closing");
  CHECK(heard("it pops when I roll off").missing.empty());
  CHECK(heard("runs like a dog").heard.empty());
}

TEST_CASE("a longer phrase takes the words of a shorter one", "[triage]") {
  const pack::Pack pack = two_symptoms({{"surges", {1}}, {"surges at idle", {0}}});
  const Triage triage = triage::triage(pack, shipped_language(), "it surges at idle", {0, 1});
  REQUIRE(triage.heard.size() == 1);
  CHECK(triage.heard[0].finding == 0);
  CHECK(triage.heard[0].phrases == Ids{"surges at idle"});
}

TEST_CASE("a word belongs to the phrase it stands closest to", "[triage]") {
  CHECK(ids(heard("Surges and hunts at idle"), Standing::said) == Ids{"idle-hunts"});
  CHECK(ids(heard("It hunts at idle, then surges at steady throttle on the freeway"),
            Standing::said) == Ids{"idle-hunts", "steady-surge"});
}

TEST_CASE("words of a phrase may be apart a little, not much, and not over sentences", "[triage]") {
  const pack::Pack pack = two_symptoms({{"spark plug black", {0}}});
  const auto count = [&](const std::string& text) {
    return triage::triage(pack, shipped_language(), text, {0, 1}).heard.size();
  };
  CHECK(count("spark plug black") == 1);
  CHECK(count("black was the left spark plug") == 1);
  CHECK(count("plug of dad's old red moped black spark") == 0);
  CHECK(count("The spark plug. Black.") == 0);
  CHECK(count("spark plugs blacking") == 1);
  CHECK(count("spark plug blackboard") == 0);
}

TEST_CASE("what the machine cannot show is not proposed", "[triage]") {
  const pack::Pack pack = two_symptoms({{"surges", {0, 1}}});
  const Triage triage = triage::triage(pack, shipped_language(), "surges", {1});
  REQUIRE(triage.heard.size() == 1);
  CHECK(triage.heard[0].finding == 1);
}

TEST_CASE("each rider's phrase of the pack finds what it means", "[triage]") {
  const pack::Pack& pack = test::shipped_pack();
  for (const pack::Words& words : pack.words) {
    CAPTURE(words.say);
    const Triage triage = heard(words.say);
    for (const std::size_t finding : words.means) {
      CAPTURE(pack.findings[finding].id);
      CHECK(has(ids(triage, Standing::said), pack.findings[finding].id));
    }
  }
}

TEST_CASE("any bytes are read without harm", "[triage]") {
  test::Random random(7);
  const std::string alphabet =
      "ab'-.,!?\r\n\t \x01\x1b\x7f\xC3\xA9\xE2\x80\x99\xFF not pops revs hang";
  for (int round = 0; round < 300; ++round) {
    std::string text;
    for (std::size_t i = random.below(400); i > 0; --i)
      text += alphabet[random.below(alphabet.size())];
    const Triage triage = heard(text);
    for (const triage::Heard& one : triage.heard) CHECK(one.phrases.size() > 0);
  }
  CHECK(ids(heard("The revs\r\nhang"), Standing::said) == Ids{"speed-hangs"});
}

TEST_CASE("stems bring forms of a word together and keep others apart", "[triage]") {
  const Language& language = shipped_language();
  const auto same = [&](const std::string& a, const std::string& b) {
    return language.stem(a) == language.stem(b);
  };
  CHECK(same("pops", "popping"));
  CHECK(same("hesitates", "hesitation"));
  CHECK(same("idle", "idling"));
  CHECK(same("misses", "miss"));
  CHECK(same("stalled", "stalls"));
  CHECK_FALSE(same("hot", "hose"));
  CHECK_FALSE(same("pops", "pipe"));
  CHECK_FALSE(same("hang", "hand"));
}

TEST_CASE("an engine that stops is no symptom that has stopped", "[triage]") {
  for (const std::string text :
       {"it surges, stops after a while", "pops on the over-run, stops when warm",
        "runs out of petrol, stops, and after five minutes rest it starts again"}) {
    CAPTURE(text);
    CHECK(ids(heard(text), Standing::denied).empty());
    CHECK_FALSE(ids(heard(text), Standing::said).empty());
  }
  check_heard("goes again after a rest", "fades-under-load");
  check_heard("starves for fuel", "fades-under-load");
  check_heard("starts only with choke", "idles-only-propped");
  check_heard("dies when choke is shut", "better-with-choke");
  check_heard("it runs on two pots", "cold-header");
  check_heard("bogs at mid throttle", "weak-mid-throttle");
  CHECK_FALSE(
      has(ids(heard("it pulls clean at mid throttle"), Standing::said), "weak-mid-throttle"));
}

}  // namespace tickover::triage_triage_test
