#include "engine/evidence/symptoms.hpp"

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
    if (kind_of(model, seen) != pack::Kind::symptom || seen.epoch > 0 || seen.level == 0) continue;
    present.insert(seen.finding);
    if (told_unasked.count(seen.finding) > 0) told.insert(seen.finding);
  }
  const std::set<std::size_t>& complaint = told_unasked.empty() ? present : told;
  evidence.complaint.assign(complaint.begin(), complaint.end());
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
