#include "engine/trail/earlier.hpp"

namespace tickover {

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
