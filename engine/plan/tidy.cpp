#include "engine/plan/tidy.hpp"

#include <algorithm>

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

bool leave_out_needless(Course& course) {
  bool any = false;
  for (Batch& batch : course.batches) {
    for (std::size_t i = batch.steps.size(); i-- > 0;) {
      const auto at = batch.steps.begin() + static_cast<std::ptrdiff_t>(i);
      const bool needless = std::any_of(at + 1, batch.steps.end(),
                                        [&](const CourseStep& later) { return mends(later, *at); });
      if (needless) batch.steps.erase(at);
      any = any || needless;
    }
  }
  return any;
}

}  // namespace tickover::plan
