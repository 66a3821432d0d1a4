#include "engine/plan/even.hpp"

#include <algorithm>
#include <cmath>

namespace tickover::plan {
namespace {

/// Relative: what rounding alone makes of equal probabilities.
constexpr double kAsProbable = 1e-6;
/// Share of its minutes by which a course may become dearer.
constexpr double kDearer = 0.005;

/// The same steps at other places, for causes of the same kinds.
class LikeSteps {
 public:
  LikeSteps(const Workshop& workshop, const std::vector<double>& present)
      : workshop_(workshop), present_(present) {}

  /// Those of the workshop, the step itself left out.
  std::vector<CourseStep> of(const CourseStep& step) const {
    std::vector<CourseStep> found;
    if (!step.place) return found;
    for (const CourseStep& other : workshop_.steps()) {
      if (other.repair != step.repair || other.place == step.place) continue;
      if (alike(other, step) && as_probable(other, step)) found.push_back(other);
    }
    return found;
  }

 private:
  bool as_probable(const CourseStep& a, const CourseStep& b) const {
    const auto one = [&](const belief::Removal& x, const belief::Removal& y) {
      const std::vector<CauseInstance>& causes = workshop_.model().causes;
      const double p = present_[x.cause], q = present_[y.cause];
      return causes[x.cause].cause == causes[y.cause].cause &&
             std::abs(p - q) <= kAsProbable * std::max(p, q);
    };
    return std::equal(a.removals.begin(), a.removals.end(), b.removals.begin(), b.removals.end(),
                      one);
  }

  const Workshop& workshop_;
  const std::vector<double>& present_;
};

/// Each step at all places like its own, where it is first taken at one of them.
Course completed(const LikeSteps& like, const Course& course) {
  Course all = course;
  for (std::size_t b = 0; b < all.batches.size(); ++b) {
    std::vector<CourseStep>& steps = all.batches[b].steps;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      for (const CourseStep& other : like.of(steps[i])) {
        if (holds(steps, other)) continue;
        const auto last = std::find_if(steps.rbegin(), steps.rend(),
                                       [&](const CourseStep& one) { return alike(one, other); });
        steps.insert(last.base(), other);
        for (std::size_t later = b + 1; later < all.batches.size(); ++later) {
          std::erase_if(all.batches[later].steps,
                        [&](const CourseStep& one) { return same(one, other); });
        }
      }
    }
  }
  return all;
}

/// Without the steps that it leaves out at places like their own.
Course reduced(const LikeSteps& like, const Course& course) {
  std::vector<CourseStep> all;
  for (const Batch& batch : course.batches) {
    all.insert(all.end(), batch.steps.begin(), batch.steps.end());
  }
  Course less = course;
  for (Batch& batch : less.batches) {
    std::erase_if(batch.steps, [&](const CourseStep& step) {
      const std::vector<CourseStep> others = like.of(step);
      return !std::all_of(others.begin(), others.end(),
                          [&](const CourseStep& other) { return holds(all, other); });
    });
  }
  return less;
}

std::size_t count_of_steps(const Course& course) {
  std::size_t count = 0;
  for (const Batch& batch : course.batches) count += batch.steps.size();
  return count;
}

}  // namespace

Course evened(const Workshop& workshop, const Situation& situation, Course course) {
  const LikeSteps like(workshop, situation.cures.present());
  const Course less = reduced(like, course);
  if (count_of_steps(less) == count_of_steps(course)) return course;
  const Course all = completed(like, course);
  Course even = cheapest_course(workshop, situation, {&all, &less});
  const bool dearer = even.expected_minutes > (1 + kDearer) * course.expected_minutes;
  return dearer || even.batches.empty() ? course : even;
}

}  // namespace tickover::plan
