#include "engine/evidence/symptoms.hpp"

#include <algorithm>
#include <map>

namespace tickover {
namespace {

pack::Kind kind_of(const Model& model, const Observation& seen) {
  return model.pack.findings[model.findings[seen.finding].finding].kind;
}

}  // namespace

void find_complaint(const Model& model, const std::set<std::size_t>& told_unasked,
                    Evidence& evidence) {
  std::set<std::size_t> present, told;
  for (const Observation& seen : evidence.observations) {
    if (kind_of(model, seen) != pack::Kind::symptom || seen.level == 0) continue;
    if (seen.epoch == 0) present.insert(seen.finding);
    if (told_unasked.count(seen.finding) > 0) told.insert(seen.finding);
  }
  const std::set<std::size_t>& complaint = told_unasked.empty() ? present : told;
  evidence.complaint.assign(complaint.begin(), complaint.end());
}

std::string as_heard(const Evidence& evidence, const std::set<std::size_t>& told_unasked) {
  const std::vector<Observation>& all = evidence.observations;
  const auto gone = [&](std::size_t finding) {
    const auto last = std::find_if(
        all.rbegin(), all.rend(), [&](const Observation& seen) { return seen.finding == finding; });
    return last != all.rend() && last->level == 0;
  };
  return std::any_of(told_unasked.begin(), told_unasked.end(), gone) ? "changed" : "still";
}

void find_appeared(const Model& model, Evidence& evidence) {
  std::map<std::size_t, std::size_t> lowest;
  std::set<std::size_t> appeared;
  for (const Observation& seen : evidence.observations) {
    const pack::Kind kind = kind_of(model, seen);
    if (kind != pack::Kind::symptom && kind != pack::Kind::response) continue;
    const auto known = lowest.find(seen.finding);
    if (known == lowest.end() || seen.level < known->second) lowest[seen.finding] = seen.level;
    if (known != lowest.end() && seen.level > known->second) appeared.insert(seen.finding);
  }
  evidence.appeared.assign(appeared.begin(), appeared.end());
}

}  // namespace tickover
