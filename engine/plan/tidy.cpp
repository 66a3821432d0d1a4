#include "engine/plan/tidy.hpp"

#include <algorithm>
#include <utility>

namespace tickover::plan {
namespace {

/// The repair mends all that the step is for, and about as surely.
bool mends(const CourseStep& repair, const CourseStep& step) {
  constexpr double kAboutAsSurely = 0.9;
  return !repair.look &&
         std::all_of(step.removals.begin(), step.removals.end(), [&](const belief::Removal& one) {
           return std::any_of(
               repair.removals.begin(), repair.removals.end(), [&](const belief::Removal& other) {
                 return other.cause == one.cause && other.success >= kAboutAsSurely * one.success;
               });
         });
}

}  // namespace

bool same(const CourseStep& a, const CourseStep& b) {
  if (!alike(a, b) || a.spot != b.spot) return false;
  return !a.look || a.look->instance == b.look->instance;
}

bool holds(const std::vector<CourseStep>& steps, const CourseStep& step) {
  return std::any_of(steps.begin(), steps.end(), [&](const auto& one) { return same(one, step); });
}

std::vector<const CourseStep*> in_working_order(
    const Access& access, std::vector<const CourseStep*> steps,
    const std::function<bool(const CourseStep&)>& at_hand) {
  enum { first, shut, looks, repairs, running };
  const auto order = [&](const CourseStep* step) {
    const AccessNeed& need = step->look ? step->look->need : step->need;
    const double deep = access.minutes({}, need.open).open;
    if (step->look) return std::pair(need.shut.empty() ? looks : shut, deep);
    if (need.running) return std::pair(running, 0.0);
    return at_hand(*step) ? std::pair(first, 0.0) : std::pair(repairs, -deep);
  };
  std::stable_sort(steps.begin(), steps.end(),
                   [&](const CourseStep* a, const CourseStep* b) { return order(a) < order(b); });
  return steps;
}

std::vector<const CourseStep*> steps_of(const Batch& batch) {
  std::vector<const CourseStep*> steps;
  steps.reserve(batch.steps.size());
  for (const CourseStep& step : batch.steps) steps.push_back(&step);
  return steps;
}

void leave_out_needless(Course& course) {
  for (Batch& batch : course.batches) {
    for (std::size_t i = batch.steps.size(); i-- > 0;) {
      const auto at = batch.steps.begin() + static_cast<std::ptrdiff_t>(i);
      const bool needless = std::any_of(at + 1, batch.steps.end(),
                                        [&](const CourseStep& later) { return mends(later, *at); });
      if (needless) batch.steps.erase(at);
    }
  }
}

}  // namespace tickover::plan
