#include "engine/diagnosis.hpp"

namespace tickover {

Diagnosis::Diagnosis(pack::Pack pack, const Journal& journal, const std::string& machine_schema,
                     const std::string& file, bool last_is_new)
    : model_(build_model(
          std::move(pack),
          load_machine(journal.opening().sheet, machine_schema, file + ":1#/opening/machine"),
          journal.opening().risks)),
      evidence_(collect_evidence(model_, journal, file, last_is_new)),
      ground_(model_),
      workshop_(model_) {}

plan::Advice Diagnosis::advise(const plan::Shop& shop, std::size_t detailed,
                               const plan::Effort& effort) const {
  const plan::Workshop there(model_, shop);
  return plan::advise(there, ground_, evidence_, detailed, effort);
}

plan::Comparison Diagnosis::compare(const plan::Shop& shop, const plan::Advice& advice,
                                    const plan::Proposal& first,
                                    const plan::Proposal& other) const {
  const plan::Workshop there(model_, shop);
  return plan::compare(there, ground_, evidence_, advice.course_now, first, other);
}

std::optional<plan::Comparison> Diagnosis::compare(const plan::Shop& shop,
                                                   const plan::Advice& advice,
                                                   const plan::Proposal& first,
                                                   std::size_t repair) const {
  const plan::Workshop there(model_, shop);
  return plan::compare(there, ground_, evidence_, advice.course_now, first, repair);
}

}  // namespace tickover
