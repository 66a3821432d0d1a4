#include "engine/plan/waiting.hpp"

#include <algorithm>

namespace tickover::plan {
namespace {

/// Results that must lead to the same repairs, and P(cured by them), at least.
constexpr double kAlmostAlways = 0.95, kProbably = 0.6;

bool all_in(const Batch& a, const Batch& b) {
  return std::all_of(a.steps.begin(), a.steps.end(),
                     [&](const CourseStep& step) { return holds(b.steps, step); });
}

}  // namespace

bool Waiting::begins_alike(const Forecast& forecast) const {
  if (forecast.course.batches.empty()) return false;
  const Batch &now = leaves_.now().batches.front(), &then = forecast.course.batches.front();
  return all_in(now, then) && all_in(then, now);
}

bool Waiting::changes_nothing_of(const Proposal& proposal) const {
  if (proposal.estimated || proposal.forecasts.empty() || leaves_.now().batches.empty()) {
    return false;
  }
  const Batch& first = leaves_.now().batches.front();
  const bool looks = std::any_of(first.steps.begin(), first.steps.end(),
                                 [](const CourseStep& step) { return step.look.has_value(); });
  if (first.steps.empty() || looks || first.cured_after < kProbably) return false;
  double alike = 0;
  for (const Forecast& one : proposal.forecasts) alike += begins_alike(one) ? one.probability : 0;
  return alike >= kAlmostAlways * foreseen(proposal.forecasts);
}

double Waiting::spared(const Proposal& check) const {
  const double there = leaves_.nothing_learnt(check.open_after);
  const double opened_anyway = std::max(leaves_.now().expected_minutes - there, 0.0);
  double lost = 0;
  for (const Forecast& one : check.forecasts) {
    if (!begins_alike(one)) lost += one.probability * std::max(there - one.expected_minutes, 0.0);
  }
  const double later = check.work_minutes + check.consumables +
                       check_at(workshop_, {}, check.index, check.places).access.total() +
                       workshop_.access().minutes(check.open_after, {}).close;
  const double still = 1 - leaves_.now().batches.front().cured_after;
  return check.minutes() + check.consumables - opened_anyway - lost - still * later;
}

}  // namespace tickover::plan
