#include "engine/plan/leaves.hpp"

#include <algorithm>

#include "engine/plan/even.hpp"

namespace tickover::plan {
namespace {

/// Draws of the posterior to plan over.
constexpr std::size_t kScenarios = 600;

/// The course with the looks of its first batch that want shut what is open put off to the next.
Course put_off(const Course& course, const OpenLayers& open) {
  Course later = course;
  if (later.batches.empty()) return later;
  std::vector<CourseStep>& first = later.batches.front().steps;
  const auto fits = [&](const CourseStep& step) {
    return !step.look || open - step.look->need.shut == open;
  };
  const auto end = std::stable_partition(first.begin(), first.end(), fits);
  const std::vector<CourseStep> looks(end, first.end());
  first.erase(end, first.end());
  if (looks.empty()) return later;
  if (later.batches.size() == 1) later.batches.emplace_back();
  std::vector<CourseStep>& next = later.batches[1].steps;
  next.insert(next.end(), looks.begin(), looks.end());
  return later;
}

}  // namespace

Leaves::Leaves(const Workshop& workshop, const Evidence& evidence, const belief::Case& given,
               std::vector<std::size_t> complaint, bool exact)
    : workshop_(workshop),
      evidence_(evidence),
      given_(given),
      complaint_(std::move(complaint)),
      exact_(exact),
      done_(plan::done(workshop.model(), evidence)),
      cures_(complaint_),
      cures_after_(complaint_) {}

void Leaves::start(const belief::Belief& base) {
  base_ = &base;
  sample_ = std::make_shared<const Sample>(
      Sample::draw(given_, complaint_, kScenarios, [&] { return base.present_now; }));
  elsewhere_.clear();
  posed_ = false;
  wide_ = base.width > kNarrow;
  if (!wide_) {
    cures();
    wide_ = cures_.width() > kNarrow;
  }
  now_ = course_now();
}

Cures& Leaves::cures() {
  if (!posed_) cures_.pose(given_, base_->log_evidence, base_->present_now);
  posed_ = true;
  return cures_;
}

Course Leaves::course_now() {
  if (!wide_) {
    return plan_course(workshop_, {cures_, done_, evidence_.open_layers, unverified()});
  }
  const std::vector<double> weights = sample_->shares();
  SampleCures sampled(*sample_, weights);
  const Course planned =
      plan_course(workshop_, {sampled, done_, evidence_.open_layers, unverified()});
  return exact_ ? along(cures(), planned) : planned;
}

/// The course as `cures` prices it, or handing on where that is cheaper.
Course Leaves::along(Cures& cures, const Course& planned) const {
  const Situation situation{cures, done_, evidence_.open_layers, unverified()};
  return cheapest_course(workshop_, situation, {&planned});
}

bool Leaves::consider(const Course& planned) {
  Course other;
  if (wide_ && !exact_) {
    const std::vector<double> weights = sample_->shares();
    SampleCures sampled(*sample_, weights);
    other = along(sampled, planned);
  } else {
    other = along(cures(), planned);
  }
  const bool cheaper = other.expected_minutes < now_.expected_minutes - kByMore;
  if (cheaper) take(std::move(other));
  return cheaper;
}

Situation Leaves::situation() { return {cures(), done_, evidence_.open_layers, unverified()}; }

void Leaves::even_out() {
  if (wide_ && !exact_) return;
  take(evened(workshop_, situation(), now_));
}

void Leaves::take(Course course) {
  now_ = std::move(course);
  elsewhere_.clear();
}

Course Leaves::after(const belief::Belief& then, const std::vector<std::size_t>& looked_now,
                     const OpenLayers& open, const Course& planned) {
  const Done done = after_looking(done_, workshop_.model(), looked_now);
  cures_after_.pose(given_, then.log_evidence, then.present_now);
  const Situation situation{cures_after_, done, open, unverified()};
  std::vector<const Course*> known = {&planned, &now_};
  Course greedy;
  if (cures_after_.width() <= kNarrow) {
    greedy = plan_course(workshop_, situation);
    known.insert(known.begin(), &greedy);
  }
  return evened(workshop_, situation, cheapest_course(workshop_, situation, known));
}

Course Leaves::begun_with(const std::vector<CourseStep>& repairs) {
  return plan::begun_with(workshop_, situation(), repairs, now_);
}

Course Leaves::begun_apart(const std::vector<CourseStep>& repairs) {
  return plan::begun_apart(workshop_, situation(), repairs, now_);
}

double Leaves::nothing_learnt(const OpenLayers& there) {
  for (const auto& [open, minutes] : elsewhere_) {
    if (open == there) return minutes;
  }
  const double back = workshop_.access().minutes(there, evidence_.open_layers).total();
  const Situation situation{cures(), done_, there, unverified()};
  const Course later = put_off(now_, there);
  const double minutes =
      std::min(cheapest_course(workshop_, situation, {&now_, &later}).expected_minutes,
               now_.expected_minutes + back);
  elsewhere_.emplace_back(there, minutes);
  return minutes;
}

}  // namespace tickover::plan
