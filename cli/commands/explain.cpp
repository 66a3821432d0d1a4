#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/cautions.hpp"
#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/session.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

std::string number_text(const pack::Number& number) {
  std::string text = fmt::format("{}", number.value);
  if (number.low < number.high) text += fmt::format(" ({} to {})", number.low, number.high);
  text += ", " + std::string(pack::name_of(number.basis));
  return number.source.empty() ? text : text + " " + number.source;
}

/// Each number with the answer it is for; the first answer is that nothing shows.
std::string levels_text(const pack::Finding& finding, const std::vector<pack::Number>& numbers) {
  if (numbers.size() < 2) return shortest(numbers.front().value);
  std::vector<std::string> texts;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    texts.push_back(shortest(numbers[i].value) + " " + finding.levels[i + 1]);
  }
  return join_words(texts);
}

template <class Entry>
std::string names(const std::vector<Entry>& entries, const std::vector<std::size_t>& indices) {
  std::vector<std::string> texts;
  for (const std::size_t index : indices) texts.push_back(entries[index].name);
  return texts.empty() ? "nothing" : join_words(texts);
}

std::string cause_text(const pack::Pack& pack, std::size_t index) {
  const pack::Cause& cause = pack.causes[index];
  std::string out = wrapped(cause.name, 0) +
                    fmt::format("A cause; one for each {}; mixture: {}\n",
                                pack::name_of(cause.scope), pack::name_of(cause.mixture)) +
                    wrapped(cause.explain, 0) + "Prior: " + number_text(cause.prior) +
                    "\n\nShows as\n";
  for (const pack::Finding& finding : pack.findings) {
    if (finding.kind == pack::Kind::inspection && finding.cause == index) {
      out += labelled("  - ",
                      finding.name + " (" + finding.id + "), seen directly: " + finding.reason, 4);
    }
    for (const pack::Link& link : finding.links) {
      if (link.cause != index) continue;
      out += labelled("  - ",
                      fmt::format("{} ({}), strength {}: {}", finding.name, finding.id,
                                  levels_text(finding, link.strength), link.reason),
                      4);
    }
  }
  for (const pack::Finding& finding : pack.findings) {
    const std::vector<std::size_t>& spoils = finding.spoiled_by;
    if (std::find(spoils.begin(), spoils.end(), index) == spoils.end()) continue;
    out += wrapped("Spoils '" + finding.id + "': where it is present, '" + finding.levels.front() +
                       "' tells nothing.",
                   0);
  }
  out += "Repaired by\n";
  for (const pack::Repair& repair : pack.repairs) {
    for (const pack::Removal& removal : repair.removes) {
      if (removal.cause == index) out += labelled("  - ", repair.name + " (" + repair.id + ")", 4);
    }
  }
  return out;
}

/// What a reading is judged by, and how far it can be trusted.
std::string reading_text(const pack::Finding& finding) {
  const std::string unit = finding.unit == "1" ? "" : " " + finding.unit;
  std::string out = finding.gases.empty() ? "A value in " + finding.unit : "The lambda of a sample";
  if (!finding.nominal.empty()) out += ", wanted: '" + finding.nominal + "' of the machine sheet";
  if (finding.sibling_tolerance) {
    out += fmt::format(", even with its siblings within {}{}", *finding.sibling_tolerance, unit);
  }
  out += fmt::format("; instrument {}{}. One reading moves a cause by at most {:.0f} dB.",
                     finding.instrument, unit, cap_decibans(finding));
  for (const pack::Gas& gas : finding.gases) {
    out += fmt::format(" {} in {}{}.", gas.name, gas.unit, gas.needed ? "" : " if there is one");
  }
  if (!finding.set_by.empty()) {
    out += " A setting: until set anew (" + join_words(finding.set_by, " or ") +
           ") it tells of the machine as found.";
  }
  if (!finding.instead_of.empty())
    out += " Counts instead of: " + join_words(finding.instead_of) + ".";
  return wrapped(out, 0);
}

/// What makes "no" say nothing.
std::string spoilers_text(const pack::Pack& pack, const pack::Finding& finding) {
  if (finding.spoiled_by.empty()) return "";
  std::string out = wrapped("'" + finding.levels.front() +
                                "' says nothing of the cylinders of a carburettor or place with",
                            0);
  for (const std::size_t cause : finding.spoiled_by) {
    out += labelled("  - ", pack.causes[cause].name + " (" + pack.causes[cause].id + ")", 4);
  }
  return out;
}

std::string finding_text(const pack::Pack& pack, std::size_t index) {
  const pack::Finding& finding = pack.findings[index];
  std::string out =
      wrapped(finding.name, 0) +
      fmt::format("{} {}; one for each {}\n", finding.kind == pack::Kind::inspection ? "An" : "A",
                  pack::name_of(finding.kind), pack::name_of(finding.scope));
  if (!finding.ask.empty()) out += labelled("Ask  ", finding.ask, 5);
  if (finding.kind == pack::Kind::inspection) {
    out += "Looks at: " + pack.causes[finding.cause].name +
           "\nAnswers (likelihood when present, absent)\n";
    for (const pack::Outcome& outcome : finding.outcomes) {
      out += labelled("  - ",
                      fmt::format("{} ({}): {}, {}", outcome.id, outcome.name,
                                  outcome.present.value, outcome.absent.value),
                      4);
    }
    return out;
  }
  if (finding.kind == pack::Kind::reading) {
    out += reading_text(finding);
  } else {
    out += wrapped("Answers: " + join_words(finding.levels, " or ") + ", or unsure", 0);
  }
  out += spoilers_text(pack, finding);
  out += "With no listed cause: " + levels_text(finding, finding.leak) + "\nProduced by\n";
  for (const pack::Link& link : finding.links) {
    out += labelled(
        "  - ",
        fmt::format("{} ({}), strength {}: {}", pack.causes[link.cause].name,
                    pack.causes[link.cause].id, levels_text(finding, link.strength), link.reason),
        4);
  }
  return out;
}

std::string steps_text(const pack::Pack& pack, const pack::Cautions& cautions,
                       const std::vector<std::string>& how) {
  return cautions_in_words(pack, cautions) + (how.empty() ? "" : "How\n" + numbered(how));
}

std::string check_text(const pack::Pack& pack, std::size_t index) {
  const pack::Check& check = pack.checks[index];
  return wrapped(check.name, 0) + (check.purpose.empty() ? "" : wrapped(check.purpose, 0)) +
         fmt::format("A check of '{}'; {} once, {} each place; engine {}\n",
                     pack.findings[check.finding].id, minutes_in_words(check.minutes.once),
                     minutes_in_words(check.minutes.each), check.running ? "running" : "stopped") +
         wrapped("Must be open: " + names(pack.layers, check.open), 0) +
         (check.shut.empty() ? "" : wrapped("Must not be: " + names(pack.layers, check.shut), 0)) +
         (check.tools.empty() ? "" : wrapped("Tools: " + join_words(check.tools), 0)) +
         steps_text(pack, check.cautions, check.how) +
         (check.good.empty() ? "" : wrapped("In order: " + check.good, 0)) +
         (check.mistakes.empty() ? "" : "Mistakes to avoid\n" + bullets(check.mistakes)) + "\n" +
         finding_text(pack, check.finding);
}

std::string repair_text(const pack::Pack& pack, std::size_t index) {
  const pack::Repair& repair = pack.repairs[index];
  std::string out =
      wrapped(repair.name, 0) +
      fmt::format("A repair; {} once, {} each place; engine {}\n",
                  minutes_in_words(repair.minutes.once), minutes_in_words(repair.minutes.each),
                  repair.running ? "running" : "stopped") +
      wrapped("Must be open: " + names(pack.layers, repair.open), 0);
  if (!repair.parts.empty()) {
    const double minutes = repair.parts_minutes;
    const std::string count = minutes > 0 ? minutes_in_words(minutes) + " a place" : "nothing";
    out += wrapped("Parts: " + join_words(repair.parts), 0) +
           wrapped("They count as " + count + " where the shop lacks a price.", 0);
  }
  out += "Removes\n";
  for (const pack::Removal& removal : repair.removes) {
    out += labelled("  - ",
                    fmt::format("{} ({}), success {}", pack.causes[removal.cause].name,
                                pack.causes[removal.cause].id, number_text(removal.success)),
                    4);
  }
  return out + steps_text(pack, repair.cautions, repair.how);
}

std::string first_start_text(const pack::Pack& pack, const pack::Cautions& cautions) {
  std::vector<std::string> ids;
  for (const std::size_t caution : cautions) ids.push_back(pack.cautions[caution].id);
  if (ids.empty()) return {};
  return wrapped("At the first start after it was opened or closed too: " + join_words(ids), 0);
}

std::string layer_text(const pack::Pack& pack, std::size_t index) {
  const pack::Layer& layer = pack.layers[index];
  return wrapped(layer.name, 0) +
         fmt::format("An access layer; {} to open, {} to close; the engine {} with it open\n",
                     minutes_in_words(layer.open_minutes), minutes_in_words(layer.close_minutes),
                     layer.runs_open ? "runs" : "does not run") +
         wrapped("Before it: " + names(pack.layers, layer.behind), 0) +
         steps_text(pack, layer.cautions, {}) + first_start_text(pack, layer.first_start);
}

/// The entries that have the caution in that list of theirs.
template <class Entry>
std::string given_by(const std::vector<Entry>& entries, pack::Cautions Entry::*list,
                     std::size_t caution, const std::string& when = "") {
  std::string out;
  for (const Entry& entry : entries) {
    const pack::Cautions& cautions = entry.*list;
    if (std::find(cautions.begin(), cautions.end(), caution) == cautions.end()) continue;
    out += labelled("  - ", when + entry.name + " (" + entry.id + ")", 4);
  }
  return out;
}

std::string caution_text(const pack::Pack& pack, std::size_t index) {
  const pack::Caution& caution = pack.cautions[index];
  return wrapped("A caution; kind of hazard: " + caution.hazard, 0) +
         cautions_in_words(pack, {index}) + "Given with\n" +
         given_by(pack.layers, &pack::Layer::cautions, index) +
         given_by(pack.layers, &pack::Layer::first_start, index, "the first start after: ") +
         given_by(pack.checks, &pack::Check::cautions, index) +
         given_by(pack.repairs, &pack::Repair::cautions, index);
}

std::string risk_text(const pack::Pack& pack, std::size_t index) {
  const pack::Risk& risk = pack.risks[index];
  std::string out =
      wrapped(risk.name, 0) + "A risk factor\n" + labelled("Ask  ", risk.ask, 5) + "Raises\n";
  for (const pack::Raise& raise : risk.raises) {
    out += labelled("  - ",
                    fmt::format("{}: odds times {}: {}", pack.causes[raise.cause].name,
                                number_text(raise.odds), raise.reason),
                    4);
  }
  const auto left_by = [&](const auto& entries, const std::vector<std::size_t>& which) {
    if (!which.empty()) {
      out += wrapped("Left behind by a job that cured: " + names(entries, which), 0);
    }
  };
  left_by(pack.layers, risk.left_by_layers);
  left_by(pack.repairs, risk.left_by_repairs);
  return out;
}

/// Every kind of entry that has the id, one after the other: a check may share its finding's name.
std::vector<std::string> texts_of(const pack::Pack& pack, const std::string& id) {
  std::vector<std::string> texts;
  const auto add = [&](const auto& entries, auto text) {
    if (const auto index = pack::find(entries, id)) texts.push_back(text(pack, *index));
  };
  add(pack.causes, cause_text);
  add(pack.checks, check_text);
  if (!pack::find(pack.checks, id)) add(pack.findings, finding_text);
  add(pack.repairs, repair_text);
  add(pack.layers, layer_text);
  add(pack.cautions, caution_text);
  add(pack.risks, risk_text);
  return texts;
}

std::vector<std::string> all_ids(const pack::Pack& pack) {
  std::vector<std::string> ids;
  const auto add = [&](const auto& entries) {
    for (const std::string& id : pack::ids_of(entries)) ids.push_back(id);
  };
  add(pack.causes);
  add(pack.findings);
  add(pack.checks);
  add(pack.repairs);
  add(pack.layers);
  add(pack.cautions);
  add(pack.risks);
  return ids;
}

int run_explain(World& world, const Words& words) {
  const std::string id = words.required("id");
  const pack::Pack pack = load_pack(world);
  const std::vector<std::string> texts = texts_of(pack, id);
  if (texts.empty()) throw unknown_name(InputFault::usage, "", "entry", id, all_ids(pack));
  if (words.has("json")) {
    print_json(world.out, {{"report", "explain"}, {"format", 1}, {"id", id}, {"texts", texts}});
    return kDone;
  }
  for (std::size_t i = 0; i < texts.size(); ++i) world.out << (i > 0 ? "\n" : "") << texts[i];
  return kDone;
}

}  // namespace

Command explain_command() {
  return {"explain",
          "Tells what the pack knows of a cause, symptom, check, repair, layer, caution or risk.",
          {{"id", "a cause, symptom, check, repair, layer, caution or risk", Names::pack_entry}},
          "tickover explain pilot-blocked",
          {},
          run_explain};
}

}  // namespace tickover::cli
