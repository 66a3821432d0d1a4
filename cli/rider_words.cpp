#include "cli/rider_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cli/print.hpp"
#include "cli/session.hpp"
#include "engine/foundation/text.hpp"

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

std::vector<triage::Heard> not_recorded(const World& world, const Session& session) {
  const Model& model = session.diagnosis->model();
  const Evidence& evidence = session.diagnosis->evidence();
  const auto is_of = [&](std::size_t finding) {
    return [&model, finding](const Observation& seen) {
      return model.findings[seen.finding].finding == finding;
    };
  };
  std::vector<triage::Heard> open = listen(world, model, riders_words(session.journal)).heard;
  std::set<std::string> settled;  // words that one of the recorded symptoms accounts for
  for (const triage::Heard& one : open) {
    const auto recorded = is_of(one.finding);
    if (std::any_of(evidence.observations.begin(), evidence.observations.end(), recorded) ||
        std::any_of(evidence.unsure.begin(), evidence.unsure.end(), recorded)) {
      settled.insert(one.phrases.begin(), one.phrases.end());
    }
  }
  std::erase_if(open, [&](const triage::Heard& one) {
    return one.standing == triage::Standing::denied ||
           std::any_of(one.phrases.begin(), one.phrases.end(),
                       [&](const std::string& phrase) { return settled.count(phrase) == 1; });
  });
  return open;
}

std::string not_recorded_in_words(const World& world, const Session& session) {
  std::vector<std::string> lines;
  for (const triage::Heard& one : not_recorded(world, session)) {
    const pack::Finding& finding = session.diagnosis->model().pack.findings[one.finding];
    lines.push_back(fmt::format("{} ({}), by \"{}\"", finding.name, finding.id,
                                join_words(one.phrases, "\", \"", "\", \"")));
  }
  if (lines.empty()) return {};
  return wrapped("The rider's words may mean this too, of which nothing is recorded: ask", 0) +
         bullets(lines);
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
