#include "engine/plan/repertoire.hpp"

#include <algorithm>

#include "engine/foundation/vectors.hpp"

namespace tickover::plan {
namespace {

/// Goes through a course and adds up what it costs in each scenario.
class Pricing {
 public:
  Pricing(const Workshop& workshop, const Sample& sample, const Done& done)
      : later(sample.scenes().size(), 0.0),
        workshop_(workshop),
        sample_(sample),
        tries_(done),
        remainder_(sample),
        reach_(sample.scenes().size(), 1.0) {}

  /// What the steps need together, and what they take whatever scenario holds.
  Gathered batch(const std::vector<CourseStep>& steps) {
    Gathered gathered;
    for (auto step = steps.begin(); step != steps.end(); ++step) {
      const bool again = std::any_of(steps.begin(), step,
                                     [&](const CourseStep& done) { return alike(done, *step); });
      gather(gathered, *step);
      const Charge its = charge(workshop_, *step, gathered.still, again);
      gathered.work += its.sure.work;
      gathered.parts += its.sure.parts;
      if (step->look) pay_for_found(*step, its.found);
      for (const belief::Removal& one : step->removals) {
        remainder_.remove(tries_.make(step->look.has_value(), one));
      }
    }
    return gathered;
  }

  /// The complaint is there still where it is not gone.
  void verify() {
    if (!verified_) {
      for (std::size_t s = 0; s < reach_.size(); ++s) {
        reach_[s] = 1 - sample_.scenes()[s].gone_by_itself;
      }
    }
    verified_ = true;
    remainder_.tell([&](std::uint32_t scene, double gone) { reach_[scene] = 1 - gone; });
  }

  /// Wherever this is reached.
  void pay(double minutes) { add_scaled(later.data(), reach_.data(), later.size(), minutes); }

  std::vector<double> later;

 private:
  /// As often as the look speaks.
  void pay_for_found(const CourseStep& step, const Expense& found) {
    const Look& look = *step.look;
    const double false_alarm = look.false_alarm * found.total();
    const double more = look.sensitivity * found.total() - false_alarm;
    pay(false_alarm);
    const std::size_t cause = step.removals.front().cause;
    for (const Sample::Part& part : sample_.present_with()[cause]) {
      later[part.index] +=
          more * std::min(part.surely * remainder_.kept(cause), reach_[part.index]);
    }
  }

  const Workshop& workshop_;
  const Sample& sample_;
  Tries tries_;
  Remainder remainder_;
  bool verified_ = false;
  std::vector<double> reach_;  ///< per scenario: P(batch is reached)
};

std::vector<std::size_t> looks_of(const Course& course) {
  std::vector<std::size_t> looks;
  for (const Batch& batch : course.batches) {
    for (const CourseStep& step : batch.steps) {
      if (step.look) looks.push_back(step.look->instance);
    }
  }
  std::sort(looks.begin(), looks.end());
  return looks;
}

}  // namespace

Repertoire::Repertoire(const Workshop& workshop, const Sample& sample, const Done& done)
    : workshop_(workshop), sample_(sample), done_(done) {
  add({});
}

void Repertoire::add(Course course, const Done& done, std::vector<std::size_t> since) {
  courses_.push_back(priced(std::move(course), done));
  courses_.back().since = std::move(since);
}

Repertoire::Priced Repertoire::priced(Course course, const Done& done) const {
  Pricing pricing(workshop_, sample_, done);
  Priced priced;
  for (const Batch& batch : course.batches) {
    const Gathered gathered = pricing.batch(batch.steps);
    if (!priced.works) {
      priced.first = gathered;
    } else {
      pricing.pay(total_minutes(workshop_, gathered, {}));
    }
    priced.works = true;
    pricing.verify();
    pricing.pay(workshop_.comeback_minutes());
  }
  pricing.pay(workshop_.hand_on_minutes());
  priced.later = std::move(pricing.later);
  priced.looks = looks_of(course);
  priced.course = std::move(course);
  return priced;
}

bool Repertoire::looks_at(std::size_t course, const std::vector<std::size_t>& answered) const {
  const std::vector<std::size_t>& looks = courses_[course].looks;
  return std::any_of(looks.begin(), looks.end(), [&](const std::size_t look) {
    return std::binary_search(answered.begin(), answered.end(), look);
  });
}

bool Repertoire::fits(std::size_t course, const std::vector<std::size_t>& answered) const {
  const std::vector<std::size_t>& since = courses_[course].since;
  return std::includes(answered.begin(), answered.end(), since.begin(), since.end()) &&
         !looks_at(course, answered);
}

double Repertoire::first_minutes(std::size_t course, const OpenLayers& open) const {
  auto from = std::find_if(first_.begin(), first_.end(),
                           [&](const auto& known) { return known.first == open; });
  if (from == first_.end()) from = first_.insert(first_.end(), {open, {}});
  for (std::size_t i = from->second.size(); i < courses_.size(); ++i) {
    const Priced& its = courses_[i];
    from->second.push_back(its.works ? total_minutes(workshop_, its.first, open)
                                     : workshop_.access().minutes(open, {}).close);
  }
  return from->second[course];
}

double Repertoire::later_minutes(std::size_t course, const std::vector<double>& weights,
                                 double total) const {
  return inner(weights.data(), courses_[course].later.data(), weights.size()) / total;
}

Repertoire::Choice Repertoire::cheapest(const std::vector<double>& weights, double total,
                                        const OpenLayers& open,
                                        const std::vector<std::size_t>& answered, std::size_t first,
                                        Choice choice) const {
  for (std::size_t i = first; i < courses_.size(); ++i) {
    const double later = later_minutes(i, weights, total);
    if (later >= choice.minutes) continue;
    const double minutes = later + first_minutes(i, open);
    if (minutes < choice.minutes && fits(i, answered)) choice = {i, minutes};
  }
  return choice;
}

}  // namespace tickover::plan
