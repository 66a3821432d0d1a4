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

plan::Advice Diagnosis::advise(const plan::Constraints& constraints, std::size_t detailed) const {
  const plan::Workshop constrained(model_, constraints);
  return plan::advise(constrained, ground_, evidence_, detailed);
}

plan::Comparison Diagnosis::compare(const plan::Constraints& constraints,
                                    const plan::Proposal& first,
                                    const plan::Proposal& other) const {
  const plan::Workshop constrained(model_, constraints);
  return plan::compare(constrained, ground_, evidence_, first, other);
}

}  // namespace tickover
