#include "engine/plan/course.hpp"

#include "engine/plan/draft.hpp"

namespace tickover::plan {

Course plan_course(const Workshop& workshop, const Situation& situation) {
  const Start start(workshop, situation);
  Course course = Draft(workshop, situation, start).greedy();
  leave_out_needless(course);
  return Draft(workshop, situation, start).follow(course);
}

Course cheapest_course(const Workshop& workshop, const Situation& situation,
                       const std::vector<const Course*>& known) {
  const Start start(workshop, situation);
  Course cheapest = Draft(workshop, situation, start).follow({});
  for (const Course* one : known) {
    Course along = Draft(workshop, situation, start).follow(*one);
    if (along.expected_minutes < cheapest.expected_minutes) cheapest = std::move(along);
  }
  return cheapest;
}

Course begun_apart(const Workshop& workshop, const Situation& situation,
                   const std::vector<CourseStep>& steps, const Course& known) {
  Course apart = known;
  apart.batches.insert(apart.batches.begin(), Batch{steps, 0, 0, 0});
  return Draft(workshop, situation, Start(workshop, situation)).follow(apart, true);
}

Course begun_with(const Workshop& workshop, const Situation& situation,
                  const std::vector<CourseStep>& steps, const Course& known) {
  const Start start(workshop, situation);
  Course together = known;
  Course cheapest = begun_apart(workshop, situation, steps, known);
  if (known.batches.empty()) return cheapest;
  std::vector<CourseStep>& first = together.batches.front().steps;
  first.insert(first.begin(), steps.begin(), steps.end());
  Course both = Draft(workshop, situation, start).follow(together, true);
  return both.expected_minutes < cheapest.expected_minutes ? both : cheapest;
}

}  // namespace tickover::plan
