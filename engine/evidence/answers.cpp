#include "engine/evidence/answers.hpp"

#include <algorithm>
#include <cctype>
#include <optional>

#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"

namespace tickover {
namespace {

std::vector<std::string> words_of(const pack::Finding& finding) {
  return finding.kind == pack::Kind::inspection ? pack::ids_of(finding.outcomes) : finding.levels;
}

std::optional<std::size_t> level_named(const pack::Finding& finding, const std::string& word) {
  const std::vector<std::string> known = words_of(finding);
  const auto found = std::find(known.begin(), known.end(), word);
  if (found != known.end()) return static_cast<std::size_t>(found - known.begin());
  if (finding.kind == pack::Kind::inspection) return std::nullopt;
  const bool begins_another =  // of a "no-drop" it says the contrary
      std::any_of(known.begin() + 1, known.end(),
                  [](const std::string& level) { return level.starts_with("no"); });
  if (word == "no" && !begins_another) return 0;
  if (word == "yes" && finding.levels.size() == 2) return 1;
  return std::nullopt;
}

/// "1250rpm": begins with a digit, and a known unit follows the number.
std::optional<Dimension> measured_in(const std::string& word) {
  if (word.empty() || std::isdigit(static_cast<unsigned char>(word.front())) == 0) return {};
  const std::size_t unit = word.find_first_not_of("0123456789.,/ ");
  if (unit == std::string::npos) return {};
  const std::string name = word.substr(unit);
  return known_unit(name) ? std::optional(dimension_of(name)) : std::nullopt;
}

/// What the sheet wants of that dimension, where it is one thing.
std::string sheet_says(const Machine& machine, Dimension dimension) {
  std::string said;
  for (const auto& [name, wanted] : machine.wanted) {
    if (wanted.value.dimension != dimension) continue;
    if (!said.empty()) return {};
    const Quantity low{wanted.value.si - wanted.tolerance, dimension};
    const Quantity high{wanted.value.si + wanted.tolerance, dimension};
    said = "; the machine's sheet has " + name + " from " + format_quantity(low, wanted.unit, 4) +
           " to " + format_quantity(high, wanted.unit, 4);
  }
  return said;
}

/// Checks and findings of a pack by name: either obtains the finding.
std::vector<std::string> names_of_findings(const pack::Pack& pack) {
  std::vector<std::string> names = pack::ids_of(pack.findings);
  for (std::string& check : pack::ids_of(pack.checks)) names.push_back(std::move(check));
  return names;
}

}  // namespace

std::size_t answer_named(const Machine& machine, const pack::Finding& finding,
                         const std::string& word) {
  if (const auto answer = level_named(finding, word)) return *answer;
  if (const auto answer = level_named(finding, lower_case(word))) return *answer;
  const std::string shown = "'" + printable(word.substr(0, 80)) + "'";
  if (const auto dimension = measured_in(word)) {
    throw InputError(
        InputFault::usage, "",
        "'" + finding.id + "' takes a word for an answer, not the measurement " + shown,
        "say what it comes to: " + answers_in_words(machine, finding) +
            sheet_says(machine, *dimension));
  }
  const std::string near = nearest(word, words_of(finding));
  throw InputError(InputFault::usage, "", shown + " is no answer to '" + finding.id + "'",
                   (near.empty() ? "" : "nearest: " + near + "; ") +
                       "answers: " + answers_in_words(machine, finding));
}

std::string answers_in_words(const Machine& machine, const pack::Finding& finding) {
  if (!finding.gases.empty()) {
    return "the gases with their units, such as \"CO 0.4% CO2 12% HC 300ppm O2 3.5%\", or unsure";
  }
  if (finding.kind != pack::Kind::reading)
    return join_words(words_of(finding), " or ") + ", or unsure";
  const auto wanted = machine.wanted.find(finding.nominal);
  const std::string unit = finding.unit == "1" ? "a plain number" : "a value in " + finding.unit;
  return unit +
         (wanted == machine.wanted.end()
              ? ""
              : ", such as " + format_quantity(wanted->second.value, finding.unit, 4)) +
         ", or unsure";
}

std::size_t finding_named(const Model& model, const std::string& word) {
  std::optional<std::size_t> found = pack::find(model.pack.findings, word);
  if (const auto check = pack::find(model.pack.checks, word); check && !found) {
    found = model.pack.checks[*check].finding;
  }
  if (!found) {
    throw unknown_name(InputFault::usage, "", "symptom or check", word,
                       names_of_findings(model.pack),
                       "'tickover list symptoms' and 'tickover list checks'");
  }
  for (const FindingInstance& instance : model.findings) {
    if (instance.finding == *found) return *found;
  }
  throw does_not_apply(word, model.pack.findings[*found].needs);
}

}  // namespace tickover
