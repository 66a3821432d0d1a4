#include <algorithm>
#include <map>
#include <tuple>

#include "engine/plan/course.hpp"

namespace tickover::plan {
namespace {

/// P(an answer that is likelier when the cause is present | present, or absent).
double alarm(const pack::Finding& inspection, pack::Number pack::Outcome::*given) {
  double sum = 0;
  for (const pack::Outcome& outcome : inspection.outcomes) {
    if (outcome.present.value > outcome.absent.value) sum += (outcome.*given).value;
  }
  return sum;
}

/// Something of single cylinders, that this machine has.
bool mends_cylinders(const Model& model, const pack::Repair& repair) {
  return std::any_of(model.causes.begin(), model.causes.end(), [&](const CauseInstance& cause) {
    return cause.place.scope == pack::Scope::cylinder &&
           std::any_of(repair.removes.begin(), repair.removes.end(),
                       [&](const pack::Removal& one) { return one.cause == cause.cause; });
  });
}

std::vector<Place> cylinders(const Model& model, Place place) {
  std::vector<Place> places;
  for (const std::size_t one : model.cylinders_of(place)) {
    places.push_back({pack::Scope::cylinder, one});
  }
  return places;
}

}  // namespace

Workshop::Workshop(const Model& model, Shop shop)
    : model_(model),
      access_(model),
      shop_(std::move(shop)),
      hand_on_minutes_(shop_.hand_on_minutes(model.pack.frame.hand_on_minutes)),
      comeback_minutes_(shop_.comeback_minutes(model.pack.frame)) {
  for (const pack::Repair& repair : model.pack.repairs) parts_.push_back(shop_.parts_of(repair));
  for (std::size_t i = 0; i < model.pack.checks.size(); ++i) {
    const pack::Check& check = model.pack.checks[i];
    consumables_.push_back(shop_.consumables_of(check));
    check_needs_.push_back(access_.need_of(check));
    if (model.applies(check.needs) && !shop_.constraints.bars(check)) checks_.push_back(i);
  }
  for (std::size_t i = 0; i < model.pack.findings.size(); ++i) {
    const pack::Finding& finding = model.pack.findings[i];
    if (finding.askable() && !shop_.constraints.bars(finding)) questions_.push_back(i);
  }
  for (std::size_t i = 0; i < model.pack.repairs.size(); ++i) {
    const pack::Repair& repair = model.pack.repairs[i];
    if (!model.applies(repair.needs) || shop_.constraints.bars(repair)) continue;
    repairs_.push_back(i);
    add_repairs(i);
  }
  add_look_then_repairs();
  steps_with_.resize(model.causes.size());
  std::map<std::tuple<std::size_t, pack::Scope, std::size_t>, std::size_t> spots;
  for (std::size_t s = 0; s < steps_.size(); ++s) {
    CourseStep& step = steps_[s];
    for (const belief::Removal& one : step.removals) steps_with_[one.cause].push_back(s);
    const Place place = step.place.value_or(Place{});
    const std::tuple spot(step.repair, place.scope, place.number);
    step.spot = spots.try_emplace(spot, spots.size()).first->second;
  }
}

const std::vector<Answer>& Workshop::answers(std::size_t instance) const {
  std::call_once(answers_known_, [&] {
    for (std::size_t i = 0; i < model_.findings.size(); ++i) {
      const bool known = i > 0 && model_.findings[i].finding == model_.findings[i - 1].finding;
      answers_.push_back(known ? answers_at(model_, i, answers_.back()) : answers_of(model_, i, 0));
    }
  });
  return answers_[instance];
}

void Workshop::add_repairs(std::size_t repair) {
  std::map<std::pair<pack::Scope, std::size_t>, CourseStep> by_place;
  std::vector<belief::Removal> everywhere;
  // as an entry at a cylinder mends what is its carburettor's too: one repair, not two
  const bool by_cylinder = mends_cylinders(model_, model_.pack.repairs[repair]);
  for (const pack::Removal& removal : model_.pack.repairs[repair].removes) {
    const pack::Scope scope = model_.pack.causes[removal.cause].scope;
    for (const Place place : model_.places(scope)) {
      const auto cause = model_.find_cause(removal.cause, place);
      if (!cause) continue;
      const belief::Removal one{*cause, 0, removal.success.value, 0};
      if (scope == pack::Scope::engine) {
        everywhere.push_back(one);
        continue;
      }
      for (const Place where : by_cylinder ? cylinders(model_, place) : std::vector<Place>{place}) {
        CourseStep& step = by_place[{where.scope, where.number}];
        step.place = where;
        step.removals.push_back(one);
      }
    }
  }
  if (by_place.empty() && !everywhere.empty()) by_place[{pack::Scope::engine, 0}];
  for (auto& [where, step] : by_place) {
    step.repair = repair;
    step.need = access_.need_of(model_.pack.repairs[repair]);
    step.repairing = model_.pack.repairs[repair].minutes;
    step.parts = parts_[repair];
    step.removals.insert(step.removals.end(), everywhere.begin(), everywhere.end());
    steps_.push_back(std::move(step));
  }
}

std::optional<std::pair<std::size_t, double>> Workshop::best_repair(std::size_t cause) const {
  std::optional<std::pair<std::size_t, double>> best;
  double best_minutes = 0;
  for (const std::size_t r : repairs_) {
    const pack::Repair& repair = model_.pack.repairs[r];
    for (const pack::Removal& removal : repair.removes) {
      if (removal.cause != cause || !(removal.success.value > 0)) continue;
      const double minutes =
          (repair.minutes.once + repair.minutes.each + parts_[r]) / removal.success.value;
      if (best && minutes >= best_minutes) continue;
      best = {r, removal.success.value};
      best_minutes = minutes;
    }
  }
  return best;
}

void Workshop::add_look_then_repairs() {
  const std::vector<std::vector<std::size_t>> checks = inspecting_checks();
  std::vector<std::optional<std::pair<std::size_t, double>>> repairs;
  for (std::size_t c = 0; c < checks.size(); ++c) repairs.push_back(best_repair(c));
  for (std::size_t i = 0; i < model_.causes.size(); ++i) {
    const std::size_t cause = model_.causes[i].cause;
    if (repairs[cause]) add_look_then_repairs(i, checks[cause], *repairs[cause]);
  }
}

/// By cause of the pack, the checks of this machine and shop that inspect it.
std::vector<std::vector<std::size_t>> Workshop::inspecting_checks() const {
  std::vector<std::vector<std::size_t>> checks(model_.pack.causes.size());
  for (const std::size_t c : checks_) {
    const pack::Finding& finding = model_.pack.findings[model_.pack.checks[c].finding];
    if (finding.kind != pack::Kind::inspection || !model_.applies(finding.needs)) continue;
    checks[finding.cause].push_back(c);
  }
  return checks;
}

/// For each way of inspecting the cause the check that costs least: then the repair, if need be.
void Workshop::add_look_then_repairs(std::size_t cause, const std::vector<std::size_t>& checks,
                                     std::pair<std::size_t, double> repair) {
  std::map<std::size_t, std::pair<double, Look>> looks;  // by finding
  for (const std::size_t c : checks) {
    const pack::Check& check = model_.pack.checks[c];
    const pack::Finding& finding = model_.pack.findings[check.finding];
    const auto instance = model_.find_finding(check.finding, model_.causes[cause].place);
    if (!instance) continue;
    const AccessNeed& need = check_needs_[c];
    const double minutes = check.minutes.once + check.minutes.each + consumables_[c] +
                           access_.minutes({}, need.open).open;
    const auto known = looks.find(check.finding);
    if (known != looks.end() && minutes >= known->second.first) continue;
    looks[check.finding] = {minutes,
                            {c, *instance, alarm(finding, &pack::Outcome::present),
                             alarm(finding, &pack::Outcome::absent), need}};
  }
  for (const auto& [finding, known] : looks) {
    CourseStep step;
    step.repair = repair.first;
    if (model_.causes[cause].place.scope != pack::Scope::engine) {
      step.place = model_.causes[cause].place;
    }
    step.look = known.second;
    step.removals = {{cause, 0, repair.second * step.look->sensitivity, 0}};
    step.need = access_.need_of(model_.pack.repairs[step.repair]);
    step.repairing = model_.pack.repairs[step.repair].minutes;
    step.parts = parts_[step.repair];
    step.looking = model_.pack.checks[step.look->check].minutes;
    step.consumables = consumables_[step.look->check];
    steps_.push_back(std::move(step));
  }
}

}  // namespace tickover::plan
