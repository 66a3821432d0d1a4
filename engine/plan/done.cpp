#include "engine/plan/done.hpp"

namespace tickover::plan {

Done nothing_done(const Model& model) {
  const Attempts none(model.pack.again.value);
  return {{}, none, none};
}

Done done(const Model& model, const Evidence& evidence) {
  Done all = nothing_done(model);
  all.attempts = evidence.attempts;
  for (std::size_t i = 0; i < model.findings.size(); ++i) {
    if (model.findings[i].cause && answered(model, evidence, i)) all.looked.push_back(i);
  }
  return all;
}

Done after_looking(Done before, const Model& model, const std::vector<std::size_t>& answered) {
  before.looked.insert(before.looked.end(), answered.begin(), answered.end());
  for (const std::size_t instance : answered) {
    if (const auto cause = model.findings[instance].cause) before.attempts.forget(*cause);
  }
  return before;
}

}  // namespace tickover::plan
