#include "engine/trail/earlier.hpp"

#include <algorithm>

namespace tickover {

namespace {

/// The job leaves it behind, where it found the complaint gone: only then can what came back have
/// begun since.
bool leaves(const Diagnosis& job, const pack::Risk& risk) {
  const Evidence& evidence = job.evidence();
  if (evidence.verdict != "gone" && !evidence.gone_before) return false;
  const auto& layers = risk.left_by_layers;
  const auto& repairs = risk.left_by_repairs;
  return std::any_of(layers.begin(), layers.end(),
                     [&](std::size_t layer) { return evidence.opened.contains(layer); }) ||
         std::any_of(evidence.repairs.begin(), evidence.repairs.end(), [&](const RepairDone& one) {
           return std::find(repairs.begin(), repairs.end(), one.repair) != repairs.end();
         });
}

}  // namespace

std::vector<std::string> risks_taken_over(const Diagnosis& job, const Journal& journal) {
  const std::vector<pack::Risk>& risks = job.model().pack.risks;
  std::vector<std::string> taken;
  for (const std::string& id : journal.opening().risks) {
    const auto known = pack::find(risks, id);
    const bool of_work =
        known && !(risks[*known].left_by_layers.empty() && risks[*known].left_by_repairs.empty());
    if (!of_work) taken.push_back(id);
  }
  for (const pack::Risk& risk : risks) {
    if (leaves(job, risk)) taken.push_back(risk.id);
  }
  return taken;
}

std::vector<Standing> left_most_probable(const Diagnosis& job) {
  constexpr std::size_t kTold = 3;
  const std::vector<double> present = job.infer().present_now;
  std::vector<Standing> left;
  for (const std::size_t cause : belief::largest_first(present, kTold)) {
    if (present[cause] >= kInQuestion) left.push_back({cause, present[cause]});
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
