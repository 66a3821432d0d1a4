#include "engine/trial/simulation.hpp"

#include <algorithm>

#include "engine/evidence/reading.hpp"

namespace tickover::trial {

Simulation::Simulation(const plan::Workshop& workshop, const belief::Ground& ground,
                       const World& world, const std::vector<Told>& told, double slips)
    : workshop_(workshop),
      ground_(ground),
      world_(world),
      slips_(slips),
      reader_(workshop.model()),
      looks_(workshop.model().findings.size(), 0) {
  Entry opening;
  opening.event = Event::open;
  write(opening);
  for (const Told& one : told) {
    told_.push_back(one.finding);
    const FindingInstance& instance = model().findings[one.finding];
    const pack::Finding& finding = model().pack.findings[instance.finding];
    Entry entry;
    entry.event = Event::record;
    entry.what = finding.id;
    entry.value = finding.levels[one.level];
    entry.cylinders = cylinders_of(instance.place);
    write(entry);
  }
  collect();
}

void Simulation::write(Entry entry) {
  entry.number = journal_.entries.size() + 1;
  entry.confirmed = true;
  journal_.entries.push_back(std::move(entry));
  journal_.struck.push_back(false);
}

void Simulation::collect() {
  for (; read_ < journal_.entries.size(); ++read_) reader_.take(journal_.entries[read_]);
  evidence_ = reader_.evidence();
}

void Simulation::pay(double work, const OpenLayers& before) {
  outcome_.minutes += work + workshop_.access().minutes(before, evidence_.open_layers).total();
}

std::vector<std::size_t> Simulation::cylinders_of(Place place) const {
  if (place.scope == pack::Scope::engine) return {};  // not said in an entry
  return model().cylinders_of(place);
}

void Simulation::record(const std::string& what, std::size_t finding,
                        const std::vector<Place>& places) {
  const Evidence before = evidence_;
  const pack::Finding& its = model().pack.findings[finding];
  const bool asked = its.kind == pack::Kind::symptom && what == its.id;
  for (const Place place : places) {
    const std::size_t instance = *model().find_finding(finding, place);
    Entry entry;
    entry.event = Event::record;
    entry.what = what;
    entry.cylinders = cylinders_of(place);
    entry.value = world_.answer(before, instance, looks_[instance]++, slips_);
    entry.asked = asked;  // evidence, and need not go
    write(entry);
  }
  collect();
}

void Simulation::ask(std::size_t finding, const std::vector<Place>& places) {
  const OpenLayers before = evidence_.open_layers;
  record(model().pack.findings[finding].id, finding, places);
  evidence_.open_layers = before;
  ++outcome_.questions;
  outcome_.minutes += model().pack.frame.ask_minutes;
}

double Simulation::check_minutes(std::size_t check, std::size_t places) const {
  const pack::Work& work = model().pack.checks[check].minutes;
  return work.once + work.each * static_cast<double>(places);
}

double Simulation::repair_minutes(std::size_t repair, std::size_t places) const {
  const pack::Work& work = model().pack.repairs[repair].minutes;
  const double each = work.each + workshop_.parts()[repair];
  return work.once + each * static_cast<double>(std::max<std::size_t>(places, 1));
}

bool Simulation::speaks(std::size_t finding) const {
  const FindingInstance& instance = model().findings[finding];
  const pack::Finding& what = model().pack.findings[instance.finding];
  for (auto seen = evidence_.observations.rbegin(); seen != evidence_.observations.rend(); ++seen) {
    if (seen->finding != finding) continue;
    if (what.kind == pack::Kind::reading) return verdict(model(), *seen).beyond;
    if (what.kind != pack::Kind::inspection) return seen->level > 0;
    const pack::Outcome& outcome = what.outcomes[seen->level];
    return outcome.present.value > outcome.absent.value;
  }
  return false;
}

std::vector<Place> Simulation::check(std::size_t check, const std::vector<Place>& places) {
  const pack::Check& what = model().pack.checks[check];
  const OpenLayers before = evidence_.open_layers;
  record(what.id, what.finding, places);
  ++outcome_.checks;
  pay(check_minutes(check, places.size()), before);
  std::vector<Place> speaking;
  for (const Place place : places) {
    if (speaks(*model().find_finding(what.finding, place))) speaking.push_back(place);
  }
  return speaking;
}

void Simulation::repair(std::size_t repair, const std::vector<Place>& places) {
  const OpenLayers before = evidence_.open_layers;
  Entry entry;
  entry.event = Event::repair;
  entry.what = model().pack.repairs[repair].id;
  for (const Place place : places) {
    for (const std::size_t cylinder : cylinders_of(place)) {
      std::vector<std::size_t>& all = entry.cylinders;
      if (std::find(all.begin(), all.end(), cylinder) == all.end()) all.push_back(cylinder);
    }
  }
  write(entry);
  collect();
  ++outcome_.repairs;
  outcome_.needless += needless(journal_.entries.size(), places);
  std::vector<RepairDone> done;
  for (const RepairDone& one : evidence_.repairs) {
    if (one.entry == journal_.entries.size()) done.push_back(one);
  }
  world_.repair(done);
  pay(repair_minutes(repair, places.size()), before);
}

/// Places at which nothing that the repair is for was there.
std::size_t Simulation::needless(std::size_t entry, const std::vector<Place>& places) const {
  const auto touches = [&](const RepairDone& done, Place place) {
    const Place of_cause = model().causes[done.cause].place;
    const std::vector<std::size_t> cylinders = cylinders_of(place);
    return of_cause.scope == pack::Scope::engine || cylinders.empty() ||
           std::any_of(cylinders.begin(), cylinders.end(), [&](std::size_t cylinder) {
             return model().place_at(of_cause.scope, cylinder) == of_cause;
           });
  };
  const std::vector<Place> where = places.empty() ? std::vector<Place>{Place{}} : places;
  std::size_t count = 0;
  for (const Place place : where) {
    const bool needed = std::any_of(evidence_.repairs.begin(), evidence_.repairs.end(),
                                    [&](const RepairDone& done) {
                                      return done.entry == entry && touches(done, place) &&
                                             world_.present(done.cause, done.epoch - 1);
                                    });
    if (!needed) ++count;
  }
  return count;
}

void Simulation::verify() {
  const OpenLayers before = evidence_.open_layers;
  std::map<std::string, bool> gone;  // by symptom: at all places
  for (const std::size_t finding : evidence_.complaint) {
    const std::string& id = model().pack.findings[model().findings[finding].finding].id;
    const bool absent = world_.level(finding, evidence_.epoch) == 0;
    gone[id] = (gone.count(id) == 0 || gone[id]) && absent;
  }
  Entry entry;
  entry.event = Event::verify;
  for (const auto& [id, absent] : gone) {
    if (absent) entry.items.push_back(id);
  }
  const bool all = entry.items.size() == gone.size();
  entry.what = all ? "gone" : entry.items.empty() ? "still" : "changed";
  if (entry.what != "changed") entry.items.clear();
  write(entry);
  collect();
  pay(workshop_.verify_minutes(), before);
  outcome_.cured = std::all_of(told_.begin(), told_.end(), [&](std::size_t finding) {
    return world_.level(finding, evidence_.epoch) == 0;
  });
  outcome_.cured_first = outcome_.cured && outcome_.verifications == 0;
  ++outcome_.verifications;
  if (!outcome_.cured) return;
  for (std::size_t f = 0; f < model().findings.size(); ++f) {
    const bool noticed = noticed_unasked(model().pack, model().findings[f].finding);
    if (noticed && world_.level(f, evidence_.epoch) > 0) outcome_.left = true;
  }
}

void Simulation::hand_on(bool contradiction) {
  outcome_.minutes +=
      workshop_.access().minutes(evidence_.open_layers, {}).total() + workshop_.hand_on_minutes();
  outcome_.handed_on = true;
  outcome_.contradiction = contradiction;
}

}  // namespace tickover::trial
