/// @file
/// Pairs of causes that are not told apart, against what their definition says of each.
#include "engine/vet/apart.hpp"

#include <catch2/catch.hpp>

#include "engine/vet/answers.hpp"
#include "engine/vet/vet.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::vet_apart_test {
namespace {

test::JobWriter hanging_four() {
  test::JobWriter job(test::shipped_sheet("four-inline"), {"old-rubber"});
  job.record("speed-hangs", "clear");
  return job;
}

std::vector<vet::NotApart> pairs_of(const Diagnosis& job, std::size_t count) {
  return vet::not_told_apart(job.workshop(), job.evidence(), job.infer().present_now, count);
}

double minutes_of(const Diagnosis& job, const pack::Check& check) {
  const Access& access = job.workshop().access();
  const OpenLayers& open = job.evidence().open_layers;
  return check.minutes.once + check.minutes.each +
         access.minutes(open, access.after(open, access.need_of(check))).total();
}

double odds(double p) { return p / (1 - p); }

}  // namespace

TEST_CASE("right guesses are a half for like answers and one for disjoint", "[vet]") {
  CHECK(vet::right_guesses({0.3, 0.7}, {0.3, 0.7}) == 0.5);
  CHECK(vet::right_guesses({1, 0}, {0, 1}) == 1);
  CHECK(vet::right_guesses({0.9, 0.1}, {0.4, 0.6}) == Approx(0.75));
}

TEST_CASE("pairs not told apart stand near each other and get the cheapest telling check",
          "[vet]") {
  const Diagnosis job = test::diagnose(hanging_four());
  const Model& model = job.model();
  const std::vector<double> present = job.infer().present_now;
  const std::vector<vet::NotApart> pairs = pairs_of(job, 6);
  REQUIRE(pairs.size() == 6);
  for (const vet::NotApart& pair : pairs) {
    const double more = present[pair.cause], less = present[pair.other];
    CAPTURE(model.causes[pair.cause].id, model.causes[pair.other].id);
    CHECK(more >= less);
    CHECK(less >= vet::kLeastPaired);
    CHECK(odds(more) < 10 * odds(less));
    REQUIRE(pair.check);
    const pack::Check& told = model.pack.checks[*pair.check];
    CHECK(model.findings[pair.finding].finding == told.finding);
    CHECK(pair.right >= vet::kToldApart);
    CHECK(pair.minutes == Approx(minutes_of(job, told)));
    // no cheaper check tells them apart, by every answer of every place
    for (const pack::Check& check : model.pack.checks) {
      if (!model.applies(check.needs) || minutes_of(job, check) >= pair.minutes) continue;
      for (std::size_t f = 0; f < model.findings.size(); ++f) {
        if (model.findings[f].finding != check.finding) continue;
        const vet::Answers answers(model, f);
        CAPTURE(check.id);
        CHECK(vet::right_guesses(answers.probabilities({pair.cause, pair.other}),
                                 answers.probabilities({pair.other, pair.cause})) <
              vet::kToldApart);
      }
    }
  }
}

TEST_CASE("fewer pairs are the first of more, and a check that was done is not named again",
          "[vet]") {
  test::JobWriter writer = hanging_four();
  const Diagnosis before = test::diagnose(writer);
  const std::vector<vet::NotApart> many = pairs_of(before, 6), few = pairs_of(before, 2);
  REQUIRE(few.size() == 2);
  for (std::size_t i = 0; i < few.size(); ++i) {
    CHECK(few[i].cause == many[i].cause);
    CHECK(few[i].other == many[i].other);
  }
  CHECK(pairs_of(before, 0).empty());
  const pack::Check& named = before.model().pack.checks[*few.front().check];
  for (const std::size_t cylinder : test::Cylinders{1, 2, 3, 4}) {
    writer.record(named.id, "none", {cylinder});
  }
  const Diagnosis after = test::diagnose(writer);
  for (const vet::NotApart& pair : pairs_of(after, 6)) {
    if (pair.check) CHECK(after.model().pack.checks[*pair.check].id != named.id);
  }
}

TEST_CASE("what is told apart by its odds, or sure on both sides, is no pair", "[vet]") {
  const Diagnosis job = test::diagnose(hanging_four());
  std::vector<double> present(job.model().causes.size(), 0);
  present[0] = 0.9;
  present[1] = 0.3;  // odds 9 and 0.43
  CHECK(vet::not_told_apart(job.workshop(), job.evidence(), present, 3).empty());
  present[1] = 0.8;  // both are there
  CHECK(vet::not_told_apart(job.workshop(), job.evidence(), present, 3).empty());
  present[1] = 0.5;
  CHECK(vet::not_told_apart(job.workshop(), job.evidence(), present, 3).size() == 1);
  present[0] = 0.04;
  present[1] = 0.04;  // neither is in question
  CHECK(vet::not_told_apart(job.workshop(), job.evidence(), present, 3).empty());
}

}  // namespace tickover::vet_apart_test
