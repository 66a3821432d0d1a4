/// @file
/// Plans treat alike what nothing tells apart.
#include "engine/plan/even.hpp"

#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_even_test {
namespace {

using plan::Course;
using plan::CourseStep;
using test::Cylinders;
using test::JobWriter;

JobWriter v_four(const std::vector<std::pair<std::string, std::string>>& seen_everywhere) {
  JobWriter job(test::shipped_sheet("four-v"));
  job.record("better-with-choke", "clear").record("speed-hangs", "clear");
  for (const auto& [what, value] : seen_everywhere) {
    for (const std::size_t cylinder : {1U, 2U, 3U, 4U}) job.record(what, value, {cylinder});
  }
  return job;
}

/// Nothing tells the cylinders 1, 3 and 4 apart.
Diagnosis one_drops_less() {
  JobWriter job = v_four({{"cold-header", "none"}, {"bowl-drain", "none"}});
  job.record("cut-out-test", "normal-drop", {1, 3, 4}).record("cut-out-test", "small-drop", {2});
  return test::diagnose(job);
}

/// Of a repair: at which cylinders the course does it, with a look or without.
std::set<std::size_t> cylinders_of(const pack::Pack& pack, const Course& course,
                                   const std::string& repair) {
  std::set<std::size_t> found;
  for (const plan::Batch& batch : course.batches) {
    for (const CourseStep& step : batch.steps) {
      if (step.place && pack.repairs[step.repair].id == repair) found.insert(step.place->number);
    }
  }
  return found;
}

void check_even(const Diagnosis& job, const Course& course, const std::vector<double>& present) {
  for (const pack::Repair& repair : job.model().pack.repairs) {
    std::map<float, std::size_t> places, taken;  // by probability of what the repair mends
    for (const CourseStep& step : job.workshop().steps()) {
      if (step.look || !step.place || job.model().pack.repairs[step.repair].id != repair.id) {
        continue;
      }
      const auto p = static_cast<float>(present[step.removals.front().cause]);
      ++places[p];
      taken[p] += cylinders_of(job.model().pack, course, repair.id).count(step.place->number);
    }
    for (const auto& [p, count] : taken) {
      CAPTURE(repair.id, p);
      CHECK((count == 0 || count == places[p]));
    }
  }
}

/// The greedy course with one step more.
Course with_step(const Diagnosis& job, const std::string& repair, std::size_t cylinder) {
  Course course = job.advise().course_now;
  for (const CourseStep& step : job.workshop().steps()) {
    if (!step.look && step.place && step.place->number == cylinder &&
        job.model().pack.repairs[step.repair].id == repair) {
      course.batches.front().steps.push_back(step);
    }
  }
  return course;
}

struct Evened {
  Course as_told, even;
};

Evened even_out(const Diagnosis& job, const Course& told) {
  plan::ExactCures cures(job.complaint());
  const belief::Belief now = job.infer();
  cures.pose(job.given(), now.log_evidence, now.present_now);
  const plan::Done done = plan::done(job.model(), job.evidence());
  const plan::Situation situation{cures, done, job.evidence().open_layers};
  const Course priced = plan::cheapest_course(job.workshop(), situation, {&told});
  return {priced, plan::evened(job.workshop(), situation, priced)};
}

}  // namespace

TEST_CASE("a plan does at all cylinders or at none what it does where nothing tells them apart",
          "[plan][even]") {
  const Diagnosis job = one_drops_less();
  const plan::Advice advice = job.advise({}, 3);
  REQUIRE(advice.course_now.batches.size() > 1);
  check_even(job, advice.course_now, advice.belief.present_now);
  std::size_t results = 0;
  for (const plan::Proposal& proposal : advice.proposals) {
    for (const plan::Forecast& forecast : proposal.forecasts) {
      if (forecast.present.empty()) continue;
      check_even(job, forecast.course, forecast.present);
      ++results;
    }
  }
  CHECK(results > 3);
}

TEST_CASE("a step at one of several like places goes, or comes everywhere, for half a per cent",
          "[plan][even]") {
  const Diagnosis job = one_drops_less();
  const pack::Pack& pack = job.model().pack;
  for (const std::string repair : {"set-float", "clean-pilot", "tighten-clamp"}) {
    const auto [told, even] = even_out(job, with_step(job, repair, 3));
    CAPTURE(repair);
    CHECK(cylinders_of(pack, told, repair).count(3) == 1);
    const std::set<std::size_t> at = cylinders_of(pack, even, repair);
    CHECK(at.count(1) == at.count(3));
    CHECK(at.count(4) == at.count(3));
    CHECK(even.expected_minutes <= 1.005 * told.expected_minutes);
  }
}

TEST_CASE("what is likelier at one place is done there alone", "[plan][even]") {
  const Diagnosis job = one_drops_less();
  const Course course = with_step(job, "set-float", 3);  // not even
  const auto [told, even] = even_out(job, course);
  std::size_t alone = 0;
  for (const pack::Repair& repair : job.model().pack.repairs) {
    const std::set<std::size_t> at = cylinders_of(job.model().pack, told, repair.id);
    if (at != std::set<std::size_t>{2}) continue;
    ++alone;
    CHECK(cylinders_of(job.model().pack, even, repair.id) == at);
  }
  CHECK(alone > 0);
}

}  // namespace tickover::plan_even_test
