#include "cli/sitting/task.hpp"

#include <algorithm>
#include <set>

#include "engine/evidence/answers.hpp"
#include "engine/trail/trail.hpp"

namespace tickover::cli {
namespace {

class TaskFinder {
 public:
  TaskFinder(const Session& session, const Sitting& sitting, const std::vector<std::string>& told)
      : session_(session), job_(*session.diagnosis), sitting_(sitting), told_(told) {}

  Plan find() {
    const Evidence& evidence = job_.evidence();
    if (evidence.finished) return {{TaskKind::finished}, {}};
    if (sitting_.asked) return {{*sitting_.asked}, advice_if_any()};
    if (!sitting_.chosen.empty()) {
      if (const auto task = chosen()) return {*task, {}};
    }
    if (evidence.verdict && *evidence.verdict == "gone") return {{TaskKind::finish}, {}};
    if (evidence.epoch == 0) {
      if (const auto told = of_riders_words()) return {*told, {}};
    }
    if (evidence.complaint.empty()) return {{TaskKind::words}, {}};
    plan::Advice advice = job_.advise(sitting_.shop, 1);
    const Task task = advised(advice);
    return {task, std::move(advice)};
  }

 private:
  std::optional<plan::Advice> advice_if_any() const {
    if (*sitting_.asked != TaskKind::choose || job_.evidence().complaint.empty()) return {};
    return job_.advise(sitting_.shop, 1);
  }

  bool skipped(const std::string& id) const {
    const std::vector<std::string>& without = sitting_.shop.constraints.without;
    return std::find(without.begin(), without.end(), id) != without.end();
  }

  const pack::Pack& pack() const { return job_.model().pack; }

  /// Something named by hand: a check or symptom at all its places, a repair, or verify. None when
  /// every place of it was told.
  std::optional<Task> chosen() const {
    const std::string& id = sitting_.chosen;
    if (id == "verify") return Task{TaskKind::verify};
    if (id == "finish") return Task{TaskKind::finish};
    if (const auto repair = pack::find(pack().repairs, id)) {
      return Task{.kind = TaskKind::repair,
                  .what = id,
                  .places = places_of(*repair),
                  .to_order = sitting_.shop.constraints.to_order(pack().repairs[*repair])};
    }
    const std::vector<Place> places =
        unheard(job_, finding_named(job_.model(), id), sitting_.again_after);
    if (places.empty()) return std::nullopt;
    // the first symptom is the rider's own; one chosen later is asked for
    const auto finding = pack::find(pack().findings, id);
    const bool ask = finding && pack().findings[*finding].kind == pack::Kind::symptom &&
                     !job_.evidence().complaint.empty();
    return Task{.kind = TaskKind::observe, .what = id, .places = places, .asked = ask};
  }

  /// Where a repair can be done: the places of the first cause that it removes and that is here;
  /// only those where it is in question, if there are any.
  std::vector<Place> places_of(std::size_t repair) const {
    const std::vector<Place> places = places_of(repair, kInQuestion);
    return places.empty() ? places_of(repair, 0) : places;
  }

  std::vector<Place> places_of(std::size_t repair, double least) const {
    const std::vector<double> present = job_.infer().present_now;
    std::vector<Place> places;
    for (const pack::Removal& removal : pack().repairs[repair].removes) {
      if (!places.empty()) break;
      for (std::size_t c = 0; c < job_.model().causes.size(); ++c) {
        const CauseInstance& cause = job_.model().causes[c];
        if (cause.cause == removal.cause && present[c] >= least) places.push_back(cause.place);
      }
    }
    return places;
  }

  /// The first symptom that the rider's words may mean and that was not gone into yet.
  std::optional<Task> of_riders_words() const {
    for (const std::string& id : told_) {
      const std::size_t finding = *pack::find(pack().findings, id);
      const std::vector<Place> places = unheard(job_, finding);
      if (!places.empty() && !skipped(id)) return Task{TaskKind::observe, id, places};
    }
    return std::nullopt;
  }

  Task advised(const plan::Advice& advice) const {
    if (advice.belief.contradiction) return {TaskKind::strike};
    if (advice.proposals.empty()) return hand_on();
    for (std::size_t i = 0; i < advice.proposals.size(); ++i) {
      if (begun(advice.proposals[i])) return observation(advice.proposals[i], i);
    }
    const plan::Proposal& first = advice.proposals.front();
    switch (first.kind) {
      case plan::ActionKind::verify:
        return {TaskKind::verify};
      case plan::ActionKind::hand_on:
        return hand_on();
      case plan::ActionKind::course:
        return step_of(first.batch);
      default:
        return observation(first, 0);
    }
  }

  /// With the parts that repairs left out in this sitting wait for.
  Task hand_on() const {
    Task task{.kind = TaskKind::hand_on};
    for (const std::string& id : sitting_.shop.constraints.without) {
      const auto repair = pack::find(pack().repairs, id);
      if (!repair) continue;
      for (std::string& part : sitting_.shop.constraints.to_order(pack().repairs[*repair])) {
        task.to_order.push_back(std::move(part));
      }
    }
    return task;
  }

  std::string id_of(const plan::Proposal& proposal) const {
    return proposal.kind == plan::ActionKind::check ? pack().checks[proposal.index].id
                                                    : pack().findings[proposal.index].id;
  }

  Task observation(const plan::Proposal& proposal, std::size_t index) const {
    const bool ask = proposal.kind == plan::ActionKind::ask;
    return {.kind = TaskKind::observe,
            .what = id_of(proposal),
            .places = proposal.places,
            .begun = index > 0,
            .asked = ask,
            .proposal = index};
  }

  /// What was recorded last, when it was a record.
  std::string last_recorded() const {
    const std::vector<const Entry*> valid = session_.journal.valid();
    for (auto entry = valid.rbegin(); entry != valid.rend(); ++entry) {
      if ((*entry)->event == Event::note) continue;
      return (*entry)->event == Event::record ? (*entry)->what : "";
    }
    return {};
  }

  /// A check or question that was taken up at some places and is left at others.
  bool begun(const plan::Proposal& proposal) const {
    const bool ask = proposal.kind == plan::ActionKind::ask;
    if (!ask && proposal.kind != plan::ActionKind::check) return false;
    if (!ask && !pack().checks[proposal.index].together) return false;
    return id_of(proposal) == last_recorded();
  }

  /// Looks by the check that was used last come first; else the first step and all like it.
  Task step_of(const plan::Batch& batch) const {
    const std::string last = last_recorded();
    const plan::CourseStep* chosen = &batch.steps.front();
    for (const plan::CourseStep& step : batch.steps) {
      if (!step.look || pack().checks[step.look->check].id != last) continue;
      chosen = &step;
      break;
    }
    return chosen->look ? looks(batch, *chosen) : repairs(batch, *chosen);
  }

  Task looks(const plan::Batch& batch, const plan::CourseStep& first) const {
    Task task{
        .kind = TaskKind::observe, .what = pack().checks[first.look->check].id, .proposal = 0};
    for (const plan::CourseStep& step : batch.steps) {
      if (!step.look || step.look->check != first.look->check) continue;
      const Place place = job_.model().findings[step.look->instance].place;
      const bool known =
          std::find(task.places.begin(), task.places.end(), place) != task.places.end();
      if (!known) task.places.push_back(place);
    }
    return in_order(std::move(task));
  }

  Task repairs(const plan::Batch& batch, const plan::CourseStep& first) const {
    const pack::Repair& repair = pack().repairs[first.repair];
    Task task{.kind = TaskKind::repair,
              .what = repair.id,
              .proposal = 0,
              .to_order = sitting_.shop.constraints.to_order(repair)};
    for (const plan::CourseStep& step : batch.steps) {
      if (!step.look && step.repair == first.repair && step.place) {
        task.places.push_back(*step.place);
      }
    }
    return in_order(std::move(task));
  }

  static Task in_order(Task task) {
    std::sort(task.places.begin(), task.places.end(),
              [](Place a, Place b) { return a.number < b.number; });
    return task;
  }

  const Session& session_;
  const Diagnosis& job_;
  const Sitting& sitting_;
  const std::vector<std::string>& told_;
};

}  // namespace

Plan plan_task(const Session& session, const Sitting& sitting,
               const std::vector<std::string>& told) {
  Plan plan = TaskFinder(session, sitting, told).find();
  plan.shop = sitting.shop;
  return plan;
}

std::vector<Place> unheard(const Diagnosis& job, std::size_t finding,
                           std::optional<std::size_t> after) {
  std::vector<Place> places;
  const Evidence& evidence = job.evidence();
  for (std::size_t i = 0; i < job.model().findings.size(); ++i) {
    const FindingInstance& instance = job.model().findings[i];
    if (instance.finding != finding) continue;
    const auto here = [&](const Observation& seen) {
      return seen.finding == i && (after ? seen.entry > *after : seen.epoch == evidence.epoch);
    };
    const bool heard =
        std::any_of(evidence.observations.begin(), evidence.observations.end(), here) ||
        std::any_of(evidence.unsure.begin(), evidence.unsure.end(), here) ||
        std::any_of(evidence.told.begin(), evidence.told.end(), here);
    if (!heard) places.push_back(instance.place);
  }
  return places;
}

std::string cylinders_at(const Model& model, const std::vector<Place>& places) {
  std::set<std::size_t> numbers;
  for (const Place place : places) {
    if (place.scope == pack::Scope::engine) continue;
    for (const std::size_t cylinder : model.cylinders_of(place)) numbers.insert(cylinder);
  }
  std::string list;
  for (const std::size_t number : numbers)
    list += (list.empty() ? "" : ",") + std::to_string(number);
  return list;
}

}  // namespace tickover::cli
