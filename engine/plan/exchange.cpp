#include "engine/plan/exchange.hpp"

#include <algorithm>
#include <numeric>

namespace tickover::plan {

std::optional<Exchange> Exchange::between(const Workshop& workshop, const Forecast& a,
                                          const Forecast& b) {
  std::vector<std::size_t> differ;
  if (a.answers.size() != b.answers.size()) return std::nullopt;
  for (std::size_t i = 0; i < a.answers.size(); ++i) {
    if (a.answers[i].first != b.answers[i].first) return std::nullopt;
    if (a.answers[i].second != b.answers[i].second) differ.push_back(i);
  }
  if (differ.size() != 2) return std::nullopt;
  const auto& [first, last] = std::pair(differ.front(), differ.back());
  if (a.answers[first].second != b.answers[last].second ||
      a.answers[last].second != b.answers[first].second) {
    return std::nullopt;
  }
  const Model& model = workshop.model();
  const std::vector<std::size_t> here = model.cylinders_of(a.answers[first].first),
                                 there = model.cylinders_of(a.answers[last].first);
  if (here.size() != there.size()) return std::nullopt;
  return Exchange(workshop, here, there);
}

Exchange::Exchange(const Workshop& workshop, const std::vector<std::size_t>& a,
                   const std::vector<std::size_t>& b)
    : workshop_(workshop), counterpart_(workshop.model().machine.cylinders.size() + 1) {
  std::iota(counterpart_.begin(), counterpart_.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    counterpart_[a[i]] = b[i];
    counterpart_[b[i]] = a[i];
  }
}

std::optional<Place> Exchange::moved(Place place) const {
  const Model& model = workshop_.model();
  const std::vector<std::size_t> cylinders = model.cylinders_of(place);
  const Place to = model.place_at(place.scope, counterpart_[cylinders.front()]);
  const bool all = std::all_of(cylinders.begin(), cylinders.end(), [&](std::size_t cylinder) {
    return model.place_at(place.scope, counterpart_[cylinder]) == to;
  });
  return all ? std::optional(to) : std::nullopt;
}

const CourseStep* Exchange::moved(const CourseStep& step) const {
  const Model& model = workshop_.model();
  const std::optional<Place> place = moved(step.place.value_or(Place{}));
  if (!place) return nullptr;
  std::optional<std::size_t> instance;
  if (step.look) {
    const FindingInstance& looked = model.findings[step.look->instance];
    const std::optional<Place> to = moved(looked.place);
    if (to) instance = model.find_finding(looked.finding, *to);
    if (!instance) return nullptr;
  }
  const std::vector<CourseStep>& steps = workshop_.steps();
  const auto found = std::find_if(steps.begin(), steps.end(), [&](const CourseStep& other) {
    if (other.repair != step.repair || other.look.has_value() != step.look.has_value()) {
      return false;
    }
    if (other.place.value_or(Place{}) != *place) return false;
    return !step.look ||
           (other.look->check == step.look->check && other.look->instance == *instance);
  });
  return found == steps.end() ? nullptr : &*found;
}

std::optional<Course> Exchange::moved(const Course& course) const {
  Course to;
  for (const Batch& batch : course.batches) {
    Batch& its = to.batches.emplace_back();
    for (const CourseStep& step : batch.steps) {
      const CourseStep* other = moved(step);
      if (!other) return std::nullopt;
      its.steps.push_back(*other);
    }
  }
  return to;
}

}  // namespace tickover::plan
