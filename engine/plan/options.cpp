#include <algorithm>

#include "engine/plan/advise.hpp"

namespace tickover::plan {
namespace {

class Options {
 public:
  Options(const Workshop& workshop, const Evidence& evidence, const OpenLayers& open,
          const std::vector<std::size_t>& answered)
      : workshop_(workshop), evidence_(evidence), open_(open), known_(model().findings.size()) {
    for (const std::size_t instance : answered) known_[instance] = true;
    for (const auto* of : {&evidence.observations, &evidence.unsure, &evidence.told}) {
      for (const Observation& seen : *of) {
        const std::size_t instance = seen.finding;
        known_[instance] = known_[instance] || stays_absent(instance) ||
                           tickover::answered(model(), evidence, instance);
      }
    }
  }

  std::vector<Proposal> run() {
    for (const std::size_t check : workshop_.checks()) add_check(check);
    for (const std::size_t finding : workshop_.questions()) add_question(finding);
    return std::move(all_);
  }

 private:
  const Model& model() const { return workshop_.model(); }

  /// Places where it is not known, and there is something to see.
  std::vector<Place> left(std::size_t finding) const {
    std::vector<Place> places;
    for (const std::size_t instance : model().instances_of(finding)) {
      if (known_[instance] || cleared(model(), evidence_, instance) ||
          not_run_since(model(), evidence_, instance)) {
        continue;
      }
      places.push_back(model().findings[instance].place);
    }
    return places;
  }

  /// Last seen absent, before a repair, it would be so again for certain, since what a link does
  /// persists and no cause is thought to come newly (Belief, DEVELOPERS.md): asking tells nothing.
  bool stays_absent(std::size_t instance) const {
    const pack::Finding& its = model().pack.findings[model().findings[instance].finding];
    const bool graded = its.kind == pack::Kind::symptom || its.kind == pack::Kind::response;
    if (!graded || !its.spoiled_by.empty()) return false;
    const std::vector<Observation>& all = evidence_.observations;
    const auto last = std::find_if(all.rbegin(), all.rend(), [&](const Observation& seen) {
      return seen.finding == instance;
    });
    return last != all.rend() && last->level == 0;
  }

  void add_check(std::size_t index) {
    const pack::Check& check = model().pack.checks[index];
    const std::vector<Place> places = left(check.finding);
    if (places.empty()) return;
    if (check.together) return all_.push_back(check_at(workshop_, open_, index, places));
    for (const Place place : places) all_.push_back(check_at(workshop_, open_, index, {place}));
  }

  void add_question(std::size_t index) {
    if (!can_be_asked(model().pack.findings[index], evidence_)) return;
    Proposal proposal;
    proposal.places = left(index);
    if (proposal.places.empty()) return;
    proposal.kind = ActionKind::ask;
    proposal.index = index;
    proposal.work_minutes = model().pack.frame.ask_minutes;
    proposal.open_after = open_;
    all_.push_back(std::move(proposal));
  }

  const Workshop& workshop_;
  const Evidence& evidence_;
  const OpenLayers& open_;
  std::vector<bool> known_;  ///< per instance of a finding
  std::vector<Proposal> all_;
};

/// Minutes of work at the proposal's places, and of getting there.
void take(Proposal& proposal, const Access& access, const OpenLayers& open, const pack::Work& work,
          const AccessNeed& need) {
  proposal.work_minutes = work.once + work.each * static_cast<double>(proposal.places.size());
  proposal.open_after = access.after(open, need);
  proposal.access = access.minutes(open, proposal.open_after);
}

}  // namespace

Proposal check_at(const Workshop& workshop, const OpenLayers& open, std::size_t check,
                  std::vector<Place> places) {
  const pack::Check& told = workshop.model().pack.checks[check];
  Proposal proposal;
  proposal.index = check;
  proposal.places = std::move(places);
  proposal.consumables =
      workshop.consumables()[check] * static_cast<double>(proposal.places.size());
  take(proposal, workshop.access(), open, told.minutes, workshop.need_of(check));
  return proposal;
}

std::vector<CourseStep> first_steps(const Batch& batch) {
  std::vector<CourseStep> first;
  for (const CourseStep& step : batch.steps) {
    if (alike(step, batch.steps.front())) first.push_back(step);
  }
  return first;
}

Proposal first_step(const Workshop& workshop, const OpenLayers& open, const Batch& batch) {
  Proposal proposal;
  proposal.batch.steps = first_steps(batch);
  for (const CourseStep& step : proposal.batch.steps) {
    proposal.places.push_back(step.place.value_or(Place{}));
  }
  const CourseStep& first = proposal.batch.steps.front();
  if (first.look) return check_at(workshop, open, first.look->check, std::move(proposal.places));
  proposal.kind = ActionKind::course;
  take(proposal, workshop.access(), open, first.repairing, first.need);
  return proposal;
}

Proposal to_begin(const Workshop& workshop, const OpenLayers& open, const Course& course) {
  Proposal proposal;
  proposal.expected_minutes = course.expected_minutes;
  proposal.open_after = open;
  if (course.batches.empty()) {
    proposal.kind = ActionKind::hand_on;
    proposal.access = workshop.access().minutes(open, {});
    return proposal;
  }
  proposal.batch = course.batches.front();
  proposal.kind = proposal.batch.steps.empty() ? ActionKind::verify : ActionKind::course;
  proposal.work_minutes = proposal.batch.minutes;  // opening, closing and verification are in it
  proposal.cured = proposal.batch.cured_after;
  return proposal;
}

double minutes_to_begin(const Workshop& workshop, const OpenLayers& open,
                        const Proposal& proposal) {
  if (proposal.batch.steps.empty()) return proposal.minutes();
  return first_step(workshop, open, proposal.batch).minutes();
}

More more_than_first(const Workshop& workshop, const OpenLayers& open, const Proposal& proposal,
                     double by_itself) {
  const bool tells = proposal.kind == ActionKind::check || proposal.kind == ActionKind::ask;
  const double besides = proposal.minutes() + proposal.consumables +
                         workshop.access().minutes(proposal.open_after, open).total();
  return tells && besides < by_itself ? More{besides, true} : More{by_itself, false};
}

bool can_be_asked(const pack::Finding& finding, const Evidence& evidence) {
  return finding.askable() && evidence.epoch == 0;
}

std::vector<Proposal> options(const Workshop& workshop, const Evidence& evidence,
                              const OpenLayers& open, const std::vector<std::size_t>& answered) {
  return Options(workshop, evidence, open, answered).run();
}

}  // namespace tickover::plan
