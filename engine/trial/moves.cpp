#include "engine/trial/moves.hpp"

#include <algorithm>
#include <map>

#include "engine/belief/decide.hpp"
#include "engine/plan/advise.hpp"

namespace tickover::trial {
namespace {

/// Steps that are done in one go, at all their places.
using Groups = std::map<std::size_t, std::vector<const plan::CourseStep*>>;

void look(Simulation& job, std::size_t check, const std::vector<const plan::CourseStep*>& steps,
          Groups& found) {
  std::vector<Place> places;
  for (const plan::CourseStep* step : steps) {
    places.push_back(job.model().findings[step->look->instance].place);
  }
  for (const Place place : job.check(check, places)) {
    const auto at = std::find(places.begin(), places.end(), place) - places.begin();
    const plan::CourseStep* step = steps[static_cast<std::size_t>(at)];
    found[step->repair].push_back(step);
  }
}

void repair_all(Simulation& job, const Groups& repairs) {
  for (const auto& [repair, steps] : repairs) {
    std::vector<Place> places;
    for (const plan::CourseStep* step : steps) {
      for (const Place place : places_of(*step)) {
        if (std::find(places.begin(), places.end(), place) == places.end()) places.push_back(place);
      }
    }
    job.repair(repair, places);
  }
}

double minutes_to(const Simulation& job, const AccessNeed& need) {
  const Access& access = job.workshop().access();
  const OpenLayers& now = job.evidence().open_layers;
  const OpenLayers then = access.after(now, need);
  return access.minutes(now, then).total() + access.minutes(then, {}).total();
}

/// Looking, or repairing, and proving it, from here.
double minutes_of(const Simulation& job, const plan::CourseStep& step) {
  if (step.look) return minutes_to(job, step.look->need) + job.check_minutes(step.look->check, 1);
  return minutes_to(job, step.need) + job.repair_minutes(step.repair, 1) +
         job.workshop().verify_minutes();
}

}  // namespace

void carry_out(Simulation& job, const plan::Batch& batch) {
  for (const bool first : {true, false}) {  // what wants something shut comes first
    Groups looks;
    for (const plan::CourseStep& step : batch.steps) {
      if (step.look && step.look->need.shut.empty() != first) {
        looks[step.look->check].push_back(&step);
      }
    }
    for (const auto& [check, steps] : looks) {
      Groups found;
      look(job, check, steps, found);
      if (!found.empty()) return repair_all(job, found);
    }
  }
  for (const bool running : {false, true}) {
    Groups repairs;
    for (const plan::CourseStep& step : batch.steps) {
      if (!step.look && step.need.running == running) repairs[step.repair].push_back(&step);
    }
    repair_all(job, repairs);
  }
  if (job.evidence().repairs_since_verify > 0 || batch.steps.empty()) job.verify();
}

const plan::CourseStep* repair_step(const plan::Workshop& workshop, std::size_t cause) {
  const auto best = workshop.best_repair(workshop.model().causes[cause].cause);
  if (!best) return nullptr;
  const std::vector<plan::CourseStep>& steps = workshop.steps();
  const auto found = std::find_if(steps.begin(), steps.end(), [&](const plan::CourseStep& step) {
    return !step.look && step.repair == best->first &&
           std::any_of(step.removals.begin(), step.removals.end(),
                       [&](const belief::Removal& one) { return one.cause == cause; });
  });
  return found == steps.end() ? nullptr : &*found;
}

const plan::CourseStep* look_step(const Simulation& job, std::size_t cause) {
  for (const plan::CourseStep& step : job.workshop().steps()) {
    const bool at_it = step.look && step.removals.front().cause == cause;
    if (at_it && !job.looked(step.look->instance)) return &step;
  }
  return nullptr;
}

std::vector<Place> places_of(const plan::CourseStep& step) {
  return step.place ? std::vector<Place>{*step.place} : std::vector<Place>();
}

bool offered(const plan::Workshop& workshop, std::size_t check) {
  return std::binary_search(workshop.checks().begin(), workshop.checks().end(), check);
}

plan::Shop shop_of(const pack::Pack& pack) {
  plan::Shop shop;
  for (const pack::Check& check : pack.checks) {
    const bool sample = !pack.findings[check.finding].gases.empty();
    if (sample) shop.constraints.without.push_back(check.id);
  }
  return shop;
}

void pursue_most_probable(Simulation& job) {
  const belief::Belief belief = belief::infer(belief::narrowed(job.ground().given(job.evidence())));
  if (belief.contradiction) return job.hand_on(true);
  for (const std::size_t cause : belief::largest_first(belief.present_now)) {
    const plan::CourseStep* repair = repair_step(job.workshop(), cause);
    if (repair == nullptr) continue;
    const plan::CourseStep* look = look_step(job, cause);
    const double pays = belief.present_now[cause] * job.workshop().hand_on_minutes();
    if (pays <= minutes_of(job, look != nullptr ? *look : *repair)) break;
    if (look == nullptr) {
      job.repair(repair->repair, places_of(*repair));
      return job.verify();
    }
    plan::Batch at_all_places;
    for (const plan::CourseStep& step : job.workshop().steps()) {
      const bool same = step.look && step.look->check == look->look->check;
      if (same && !job.looked(step.look->instance)) at_all_places.steps.push_back(step);
    }
    carry_out(job, at_all_places);
    if (job.evidence().repairs_since_verify > 0) job.verify();
    return;
  }
  job.hand_on();
}

void pursue_course(Simulation& job) {
  const belief::Case given =
      belief::narrowed(belief::decided(job.ground().given(job.evidence()), plan::kDoubt));
  const belief::Belief belief = belief::infer(given);
  if (belief.contradiction) return job.hand_on(true);
  const plan::Done done = plan::done(job.model(), job.evidence());
  plan::ExactCures cures(job.ground().nodes_of(job.evidence().complaint));
  cures.pose(given, belief.log_evidence, belief.present_now);
  const plan::Course course = plan::plan_course(
      job.workshop(),
      {cures, done, job.evidence().open_layers, job.evidence().repairs_since_verify > 0});
  if (course.batches.empty()) return job.hand_on();
  carry_out(job, course.batches.front());
}

}  // namespace tickover::trial
