/// @file
/// The next step for a model that differs in a number, and when two steps are the same thing to do.
#include "engine/plan/next_step.hpp"

#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_next_step_test {
namespace {

test::JobWriter hanging_twin() {
  test::JobWriter job(test::shipped_sheet("twin-parallel"), {"old-rubber"});
  job.record("speed-hangs", "clear");
  return job;
}

plan::Proposal a_check(std::size_t index, std::vector<Place> places) {
  plan::Proposal one;
  one.kind = plan::ActionKind::check;
  one.index = index;
  one.places = std::move(places);
  return one;
}

}  // namespace

TEST_CASE("the next step is the first proposal of the whole advice", "[plan]") {
  const Diagnosis job = test::diagnose(hanging_twin());
  const plan::Proposal alone = plan::next_step(job.model(), job.evidence());
  const plan::Proposal first = job.advise({}, 0).proposals.front();
  CHECK(plan::same_step(alone, first));
  CHECK(alone.expected_minutes == Approx(first.expected_minutes));
}

TEST_CASE("a number that decides changes the next step", "[plan]") {
  const Diagnosis job = test::diagnose(hanging_twin());
  const plan::Proposal before = plan::next_step(job.model(), job.evidence());
  Model dear = job.model();  // every check a day's work: none is worth it
  for (pack::Check& check : dear.pack.checks) check.minutes = {1440, 1440};
  dear.pack.frame.ask_minutes = 1440;
  const plan::Proposal after = plan::next_step(dear, job.evidence());
  CHECK(after.kind != plan::ActionKind::check);
  CHECK(after.kind != plan::ActionKind::ask);
  CHECK_FALSE(plan::same_step(before, after));
}

TEST_CASE("steps are the same by what is done and where", "[plan]") {
  const Place one{pack::Scope::cylinder, 1}, two{pack::Scope::cylinder, 2};
  CHECK(plan::same_step(a_check(3, {one}), a_check(3, {one})));
  CHECK_FALSE(plan::same_step(a_check(3, {one}), a_check(4, {one})));
  CHECK_FALSE(plan::same_step(a_check(3, {one}), a_check(3, {two})));
  plan::Proposal course, other;
  course.kind = other.kind = plan::ActionKind::course;
  CHECK(plan::same_step(course, other));
  plan::CourseStep step;
  step.repair = 5;
  step.place = one;
  course.batch.steps = {step};
  CHECK_FALSE(plan::same_step(course, other));
  other.batch.steps = {step, step};  // a longer course that begins the same
  CHECK(plan::same_step(course, other));
  other.batch.steps.front().place = two;
  CHECK_FALSE(plan::same_step(course, other));
  other.batch.steps.front().place = one;
  other.batch.steps.front().repair = 6;
  CHECK_FALSE(plan::same_step(course, other));
}

}  // namespace tickover::plan_next_step_test
