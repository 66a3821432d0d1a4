#include <algorithm>

#include "engine/evidence/evidence.hpp"

namespace tickover {

std::size_t epoch_told(const Model& model, const Evidence& evidence, std::size_t instance) {
  const FindingInstance& finding = model.findings[instance];
  const std::vector<std::string>& set_by = model.pack.findings[finding.finding].set_by;
  if (set_by.empty()) return evidence.epoch;
  std::size_t epoch = 0;
  for (const RepairDone& done : evidence.repairs) {
    const std::string& repair = model.pack.repairs[done.repair].id;
    const bool sets = std::find(set_by.begin(), set_by.end(), repair) != set_by.end();
    if (sets && model.causes[done.cause].place == finding.place) epoch = done.epoch;
  }
  return epoch;
}

bool answered(const Model& model, const Evidence& evidence, std::size_t instance) {
  const std::optional<std::size_t> cause = model.findings[instance].cause;
  std::size_t since = epoch_told(model, evidence, instance);
  if (cause) {
    since = 0;
    for (const RepairDone& done : evidence.repairs) {
      if (done.cause == *cause) since = std::max(since, done.epoch);
    }
  }
  const auto here = [&](const auto& seen) {
    return seen.finding == instance && seen.epoch >= since;
  };
  return std::any_of(evidence.observations.begin(), evidence.observations.end(), here) ||
         std::any_of(evidence.unsure.begin(), evidence.unsure.end(), here) ||
         std::any_of(evidence.told.begin(), evidence.told.end(), here);
}

std::optional<std::size_t> cleared(const Model& model, const Evidence& evidence,
                                   std::size_t instance) {
  const FindingInstance& finding = model.findings[instance];
  const std::vector<std::size_t>& by = model.pack.findings[finding.finding].cleared_by;
  if (by.empty()) return std::nullopt;
  const std::vector<std::size_t> seen_at = model.cylinders_of(finding.place);
  for (const RepairDone& done : evidence.repairs) {
    if (done.epoch <= evidence.ran_in || std::find(by.begin(), by.end(), done.repair) == by.end())
      continue;
    const std::vector<std::size_t> at = model.cylinders_of(model.causes[done.cause].place);
    const bool here =
        std::find_first_of(at.begin(), at.end(), seen_at.begin(), seen_at.end()) != at.end();
    if (here) return done.entry;
  }
  return std::nullopt;
}

std::optional<std::size_t> not_run_since(const Model& model, const Evidence& evidence,
                                         std::size_t instance) {
  const FindingInstance& finding = model.findings[instance];
  if (!model.pack.findings[finding.finding].left_by_running) return std::nullopt;
  for (const RepairDone& done : evidence.repairs) {
    const auto of_it = [&](const LinkInstance& link) { return link.cause == done.cause; };
    if (done.epoch <= evidence.ran_in) continue;
    if (std::any_of(finding.links.begin(), finding.links.end(), of_it)) return done.entry;
  }
  return std::nullopt;
}

std::vector<Place> places_left(const Model& model, const Evidence& evidence, std::size_t finding) {
  std::vector<Place> left;
  for (const Place place : model.places(model.pack.findings[finding].scope)) {
    const std::optional<std::size_t> instance = model.find_finding(finding, place);
    if (instance && !answered(model, evidence, *instance) && !cleared(model, evidence, *instance)) {
      left.push_back(place);
    }
  }
  return left;
}

}  // namespace tickover
