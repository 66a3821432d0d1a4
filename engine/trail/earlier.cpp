#include "engine/trail/earlier.hpp"

#include <algorithm>

namespace tickover {

std::vector<std::string> risks_left(const Diagnosis& job) {
  std::vector<std::string> left;
  // what came back after a cure may have begun with the work; what was never gone has not
  const bool cured = job.evidence().verdict == "gone" || job.evidence().gone_before;
  for (const pack::Risk& risk : job.model().pack.risks) {
    if (!cured) break;
    const bool opened =
        std::any_of(risk.left_by_layers.begin(), risk.left_by_layers.end(),
                    [&](std::size_t layer) { return job.evidence().opened.contains(layer); });
    const bool repaired =
        std::any_of(risk.left_by_repairs.begin(), risk.left_by_repairs.end(), [&](std::size_t r) {
          const std::vector<RepairDone>& done = job.evidence().repairs;
          return std::any_of(done.begin(), done.end(),
                             [&](const RepairDone& one) { return one.repair == r; });
        });
    if (opened || repaired) left.push_back(risk.id);
  }
  return left;
}

Earlier earlier_of(const Diagnosis& job, const Journal& journal, const std::string& name) {
  Earlier earlier;
  earlier.job = name;
  earlier.sum = journal.last_sum;
  earlier.time = journal.entries.back().time;
  earlier.complaint = journal.opening().complaint;
  earlier.verdict = job.evidence().verdict.value_or("");
  for (const std::size_t finding : job.evidence().complaint) {
    earlier.symptoms.push_back(job.model().findings[finding].id);
  }
  for (const std::size_t cause : job.evidence().confirmed) {
    earlier.causes.push_back(job.model().causes[cause].id);
  }
  for (const Entry* entry : journal.valid()) {
    if (entry->event == Event::repair) earlier.repairs.push_back({entry->what, entry->cylinders});
  }
  return earlier;
}

}  // namespace tickover
