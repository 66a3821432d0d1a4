/// @file
/// What changes a belief and what must not, on the shipped knowledge: no reference is needed, only
/// two ways of telling the same story.
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/evidence/repeated.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::property_metamorphic_test {
namespace {

using test::Cylinders;
using test::JobWriter;

struct Seen {
  std::string what, value;
  Cylinders cylinders = {};
};

const std::vector<Seen>& story() {
  static const std::vector<Seen> all = {{"idle-hunts", "clear"},
                                        {"better-with-choke", "slight"},
                                        {"idle-high", "no"},
                                        {"cold-header", "cooler", {2}},
                                        {"cold-header", "none", {1, 3}},
                                        {"mist-reaction", "slight", {4}},
                                        {"mist-reaction", "none", {2}},
                                        {"float-height", "18.9 mm", {2}},
                                        {"float-height", "17.4 mm", {3}},
                                        {"compression", "1120 kPa", {1, 2}},
                                        {"pilot-jet-look", "partly", {2}}};
  return all;
}

JobWriter job_of(const std::vector<Seen>& seen, const std::vector<std::string>& risks = {}) {
  JobWriter job(test::shipped_sheet("four-inline"), risks);
  for (const Seen& one : seen) job.record(one.what, one.value, one.cylinders);
  return job;
}

belief::Belief belief_of(const JobWriter& job) { return test::diagnose(job).infer(); }

void check_same(const belief::Belief& got, const belief::Belief& expected, double tolerance) {
  REQUIRE(got.present_now.size() == expected.present_now.size());
  CHECK(got.log_evidence == Approx(expected.log_evidence).epsilon(tolerance).margin(tolerance));
  for (std::size_t c = 0; c < got.present_now.size(); ++c) {
    CAPTURE(c);
    CHECK(std::abs(got.present_now[c] - expected.present_now[c]) <= tolerance);
    CHECK(std::abs(got.present_at_start[c] - expected.present_at_start[c]) <= tolerance);
  }
}

/// `renamed[i]` is the new number of cylinder i + 1.
std::vector<Seen> renamed_story(const Cylinders& renamed) {
  std::vector<Seen> seen = story();
  for (Seen& one : seen) {
    for (std::size_t& cylinder : one.cylinders) cylinder = renamed[cylinder - 1];
  }
  return seen;
}

double odds(double p) { return p / (1 - p); }

/// The shipped pack with one more way of looking at blocked pilot jets, which tells nothing.
pack::Pack with_blind_look() {
  pack::Pack pack = test::shipped_pack();
  pack::Finding blind = pack.findings[*pack::find(pack.findings, "pilot-jet-look")];
  blind.id = "blind-look";
  for (pack::Outcome& outcome : blind.outcomes) outcome.absent = outcome.present;
  pack.findings.push_back(blind);
  return pack;
}

}  // namespace

// Every cylinder has a carburettor of its own here, so both kinds of places are renamed alike.
TEST_CASE("renaming cylinders renames the answers", "[property][metamorphic]") {
  const Diagnosis as_told = test::diagnose(job_of(story()));
  const belief::Belief before = as_told.infer();
  const Model& model = as_told.model();
  for (const Cylinders& renamed : {Cylinders{2, 3, 4, 1}, {4, 3, 2, 1}, {1, 3, 2, 4}}) {
    CAPTURE(renamed);
    const belief::Belief after = belief_of(job_of(renamed_story(renamed)));
    CHECK(after.log_evidence == Approx(before.log_evidence).epsilon(1e-12));
    double moved = 0;
    for (std::size_t c = 0; c < model.causes.size(); ++c) {
      Place place = model.causes[c].place;
      if (place.number > 0) place.number = renamed[place.number - 1];
      const std::size_t there = *model.find_cause(model.causes[c].cause, place);
      CAPTURE(model.causes[c].id);
      CHECK(after.present_now[there] == Approx(before.present_now[c]).epsilon(1e-10));
      moved = std::max(moved, std::abs(after.present_now[c] - before.present_now[c]));
    }
    CHECK(moved > 0.01);  // the story does tell the cylinders apart
  }
}

TEST_CASE("the order of evidence within an epoch does not matter", "[property][metamorphic]") {
  const belief::Belief expected = belief_of(job_of(story()));
  test::Random random(1);
  for (int i = 0; i < 10; ++i) {
    std::vector<Seen> shuffled = story();
    random.shuffle(shuffled);
    check_same(belief_of(job_of(shuffled)), expected, 1e-12);
  }
}

TEST_CASE("all cylinders in one entry or one by one is the same", "[property][metamorphic]") {
  JobWriter together = job_of(story()), apart = job_of(story());
  together.record("plug-pale", "normal", {1, 2, 3});
  for (const std::size_t cylinder : {1U, 2U, 3U}) apart.record("plug-pale", "normal", {cylinder});
  check_same(belief_of(apart), belief_of(together), 1e-12);
}

TEST_CASE("a check that tells nothing changes no belief", "[property][metamorphic]") {
  const pack::Pack pack = with_blind_look();
  const belief::Belief before = test::diagnose(pack, job_of(story()).journal()).infer();
  const std::size_t look = *pack::find(pack.findings, "blind-look");
  for (const pack::Outcome& outcome : pack.findings[look].outcomes) {
    CAPTURE(outcome.id);
    JobWriter job = job_of(story());
    job.record("blind-look", outcome.id, {1});
    belief::Belief after = test::diagnose(pack, job.journal()).infer();
    after.log_evidence -= std::log(outcome.present.value);
    check_same(after, before, 1e-12);
  }
}

TEST_CASE("an answer 'unsure', a note and an open tank change no belief",
          "[property][metamorphic]") {
  const belief::Belief before = belief_of(job_of(story()));
  JobWriter job = job_of(story());
  job.record("water-mist", "unsure", {3}).note("rain").strip({"tank"}).refit();
  check_same(belief_of(job), before, 0);
}

TEST_CASE("a struck entry is as if it had never been", "[property][metamorphic]") {
  JobWriter clean = job_of(story());
  clean.repair("reset-pilot-screw", {2}).verify("still").record("idle-high", "no");
  JobWriter job(test::shipped_sheet("four-inline"));
  std::vector<std::size_t> wrong;
  for (const Seen& one : story()) {
    wrong.push_back(job.record("compression", "1000 kPa", {4}).last());
    job.record(one.what, one.value, one.cylinders);
  }
  wrong.push_back(job.record("steady-surge", "clear").last());
  wrong.push_back(job.repair("renew-fuel").last());
  job.repair("reset-pilot-screw", {2});
  wrong.push_back(job.verify("gone").last());
  job.verify("still").record("idle-high", "no");
  for (const std::size_t entry : wrong) job.strike(entry);
  const Diagnosis expected = test::diagnose(clean), got = test::diagnose(job);
  check_same(got.infer(), expected.infer(), 0);
  CHECK(got.evidence().epoch == expected.evidence().epoch);
  CHECK(got.evidence().complaint == expected.evidence().complaint);
  CHECK(got.evidence().open_layers == expected.evidence().open_layers);
  CHECK(got.evidence().verdict == expected.evidence().verdict);
  CHECK(got.evidence().observations.size() == expected.evidence().observations.size());
}

TEST_CASE("a strike that is struck lets the entry count again", "[property][metamorphic]") {
  JobWriter job = job_of(story());
  const std::size_t entry = job.record("plug-pale", "white", {2}).last();
  const belief::Belief with = belief_of(job);
  job.strike(entry);
  job.strike(job.last());
  check_same(belief_of(job), with, 0);
}

TEST_CASE("a symptom told twice counts once, and told otherwise replaces itself",
          "[property][metamorphic]") {
  const belief::Belief once = belief_of(job_of(story()));
  JobWriter twice = job_of(story());
  twice.record("idle-hunts", "clear").record("mist-reaction", "slight", {4});
  check_same(belief_of(twice), once, 1e-12);
  JobWriter otherwise(test::shipped_sheet("four-inline"));
  otherwise.record("idle-hunts", "none").record("pilot-jet-look", "shut", {2});
  for (const Seen& one : story()) otherwise.record(one.what, one.value, one.cylinders);
  check_same(belief_of(otherwise), once, 1e-12);
}

// A second reading has an error of its own, but the part is the same: both together are one
// likelihood, that of all readings of it (evidence/repeated.hpp), in either order.
TEST_CASE("a reading taken again adds what its own error leaves new", "[property][metamorphic]") {
  JobWriter job = job_of(story()), turned = job_of({});
  job.record("float-height", "18.6 mm", {2});
  turned.record("float-height", "18.6 mm", {2});
  for (const Seen& one : story()) turned.record(one.what, one.value, one.cylinders);
  const Diagnosis twice = test::diagnose(job);
  const FindingInstance& height = test::finding_instance(twice.model(), "float-height@2");
  const ReadingLikelihood both =
      joint_density(reading_model(twice.model(), height), {0.0189, 0.0186});
  belief::Case joined = test::diagnose(job_of(story())).given();
  const belief::SoftObservation again = twice.given().soft.back();
  std::size_t found = 0;
  for (belief::SoftObservation& soft : joined.soft) {
    if (soft.findings != again.findings) continue;
    ++found;
    soft.likelihood = {both.still, both.low, both.high, both.both};
  }
  REQUIRE(found == 1);
  const belief::Belief got = twice.infer();
  check_same(got, belief::infer(joined), 1e-12);
  check_same(belief_of(turned), got, 1e-9);
}

TEST_CASE("risk factors multiply the odds, each once", "[property][metamorphic]") {
  const Model plain = test::diagnose(job_of({})).model();
  const pack::Pack& pack = plain.pack;
  std::vector<std::string> all;
  std::vector<double> together(pack.causes.size(), 1);
  for (const pack::Risk& risk : pack.risks) {
    CAPTURE(risk.id);
    all.push_back(risk.id);
    const Diagnosis job = test::diagnose(job_of({}, {risk.id, risk.id}));
    std::vector<double> factor(pack.causes.size(), 1);
    for (const pack::Raise& raise : risk.raises) factor[raise.cause] *= raise.odds.value;
    for (std::size_t c = 0; c < plain.causes.size(); ++c) {
      const std::size_t cause = plain.causes[c].cause;
      const double ratio = odds(job.model().causes[c].prior) / odds(plain.causes[c].prior);
      CHECK(ratio == Approx(factor[cause]).epsilon(1e-12));
      CHECK(job.infer().present_now[c] == Approx(job.model().causes[c].prior).epsilon(1e-12));
    }
    for (std::size_t c = 0; c < factor.size(); ++c) together[c] *= factor[c];
  }
  const Model raised = test::diagnose(job_of({}, all)).model();
  for (std::size_t c = 0; c < plain.causes.size(); ++c) {
    const double ratio = odds(raised.causes[c].prior) / odds(plain.causes[c].prior);
    CHECK(ratio == Approx(together[plain.causes[c].cause]).epsilon(1e-11));
  }
}

}  // namespace tickover::property_metamorphic_test
