#include "engine/plan/leaves.hpp"

#include <algorithm>

#include "engine/belief/scenarios.hpp"

namespace tickover::plan {
namespace {

/// Draws of the posterior to plan over.
constexpr std::size_t kScenarios = 600;
/// Cases with more bits open at once are wide.
constexpr std::size_t kNarrow = 9;

}  // namespace

Leaves::Leaves(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
               const belief::Case& given, std::vector<std::size_t> complaint, bool exact)
    : workshop_(workshop),
      ground_(ground),
      evidence_(evidence),
      given_(given),
      complaint_(std::move(complaint)),
      exact_(exact),
      cures_(complaint_) {
  const Model& model = workshop.model();
  for (std::size_t i = 0; i < model.findings.size(); ++i) {
    if (model.findings[i].cause && answered(model, evidence, i)) looked_.push_back(i);
  }
}

void Leaves::start(const belief::Belief& base) {
  base_ = &base;
  sample_ = std::make_shared<const Sample>(ground_.network(),
                                           belief::draw_scenarios(given_, complaint_, kScenarios));
  elsewhere_.clear();
  cures();
  wide_ = std::max(base.width, cures_.width()) > kNarrow;
  now_ = course_now(evidence_.open_layers);
}

Cures& Leaves::cures() {
  cures_.pose(given_, base_->log_evidence, base_->present_now);
  return cures_;
}

Course Leaves::course_now(const OpenLayers& open) {
  if (!wide_) return plan_course(workshop_, {cures_, looked_, open, unverified()});
  const Course planned = planned_over(sample_->shares(), looked_, open);
  if (!exact_) return planned;
  return cheapest_course(workshop_, {cures_, looked_, open, unverified()}, {&planned});
}

Course Leaves::planned_over(const std::vector<double>& weights,
                            const std::vector<std::size_t>& looked, const OpenLayers& open) const {
  SampleCures sampled(*sample_, weights);
  return plan_course(workshop_, {sampled, looked, open, unverified()});
}

Course Leaves::after(const Result& result, const OpenLayers& open) {
  std::vector<std::size_t> looked = looked_;
  for (const Observation& one : result.observations) {
    if (workshop_.model().findings[one.finding].cause) looked.push_back(one.finding);
  }
  cures_.pose(given_, result.log_evidence, result.present);
  const Situation situation{cures_, looked, open, unverified()};
  if (!wide_) return plan_course(workshop_, situation, &now_);
  belief::Case seen;
  for (const Observation& one : result.observations) ground_.observe(seen, one);
  std::vector<double> weights = sample_->likelihood(seen);
  for (std::size_t s = 0; s < weights.size(); ++s) weights[s] *= sample_->scenes()[s].share;
  const Course planned = planned_over(weights, looked, open);
  return cheapest_course(workshop_, situation, {&planned, &now_});
}

double Leaves::nothing_learnt(const OpenLayers& there) {
  for (const auto& [open, minutes] : elsewhere_) {
    if (open == there) return minutes;
  }
  cures();
  const double back = workshop_.access().minutes(there, evidence_.open_layers).total();
  const double minutes = std::min(course_now(there).expected_minutes, now_.expected_minutes + back);
  elsewhere_.emplace_back(there, minutes);
  return minutes;
}

}  // namespace tickover::plan
