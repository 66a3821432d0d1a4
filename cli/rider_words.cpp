#include "cli/rider_words.hpp"

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

std::vector<std::string> symptoms_in(const World& world, const Model& model,
                                     const std::string& said) {
  std::vector<std::string> found;
  for (const triage::Heard& heard : listen(world, model, said).heard) {
    if (heard.standing == triage::Standing::denied) continue;
    found.push_back(model.pack.findings[heard.finding].id);
  }
  return found;
}

std::string riders_words(const Journal& journal) {
  std::string said = journal.opening().complaint;
  const std::string mark = kRider;
  for (const Entry* entry : journal.valid()) {
    if (entry->event == Event::note && entry->note.starts_with(mark)) {
      said += ". " + entry->note.substr(mark.size());
    }
  }
  return said;
}

}  // namespace tickover::cli
