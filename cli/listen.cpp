#include "cli/listen.hpp"

#include "cli/session.hpp"

namespace tickover::cli {

triage::Triage listen(const World& world, const Model& model, const std::string& words) {
  std::vector<std::size_t> symptoms;
  for (std::size_t i = 0; i < model.pack.findings.size(); ++i) {
    const pack::Finding& finding = model.pack.findings[i];
    if (finding.kind == pack::Kind::symptom && model.applies(finding.needs)) symptoms.push_back(i);
  }
  return triage::triage(model.pack, load_language(world), words, symptoms);
}

}  // namespace tickover::cli
