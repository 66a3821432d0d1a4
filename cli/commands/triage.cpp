#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/rider_words.hpp"
#include "cli/session.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

/// A rider's complaint is a few sentences; matching a book would take long.
constexpr std::size_t kLongestText = 16000;
constexpr std::size_t kWordsShown = 40;

/// As it must be typed in a shell.
std::string quoted(const std::string& word) {
  const bool plain = word.find_first_not_of(
                         "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                         "0123456789_-./@+=:,") == std::string::npos;
  if (plain && !word.empty()) return word;
  std::string out = "'";
  for (const char c : word) out += c == '\'' ? "'\\''" : std::string(1, c);
  return out + "'";
}

/// The lines that record each answer, clearest first, so that "not there" stands last.
std::vector<std::string> record_lines(const std::string& job, const pack::Finding& finding) {
  const std::string where = finding.scope == pack::Scope::engine ? "" : " --cyl N";
  std::vector<std::string> lines;
  for (auto level = finding.levels.rbegin(); level != finding.levels.rend(); ++level) {
    lines.push_back("tickover record " + quoted(job) + " " + finding.id + where + " " + *level);
  }
  return lines;
}

/// What the job has on the symptom already: "clear (entry 2)".
std::string recorded(const Session& session, const std::string& id) {
  std::vector<std::string> found;
  for (const Entry* entry : session.journal.valid()) {
    if (entry->event != Event::record || entry->what != id) continue;
    found.push_back(entry->value + " (entry " + std::to_string(entry->number) + ")");
  }
  return join_words(found);
}

std::string heading(triage::Standing standing) {
  if (standing == triage::Standing::said) return "May be meant: ask, then record what holds";
  return standing == triage::Standing::denied
             ? "Said not to be there: ask, then record it"
             : "Spoken of near a 'not', which may or may not be meant for it: ask";
}

std::string heard_text(const Session& session, const triage::Heard& one) {
  const pack::Finding& finding = session.diagnosis->model().pack.findings[one.finding];
  std::string said;
  for (const std::string& phrase : one.phrases) {
    said += (said.empty() ? "\"" : ", \"") + printable(phrase) + "\"";
  }
  std::string out = "\n" + wrapped(finding.id + ": " + said, 4);
  out += "    " + wrapped(finding.ask.empty() ? finding.name : finding.ask, 4);
  const std::string before = recorded(session, finding.id);
  if (!before.empty()) out += "    " + wrapped("Recorded already: " + printable(before), 4);
  for (const std::string& line : record_lines(session.path, finding)) {
    out += "      " + printable(line) + "\n";
  }
  return out;
}

std::string missing_text(const pack::Pack& pack, const triage::Language& language,
                         const triage::Missing& missing) {
  const triage::ConditionQuestion& question = language.questions[missing.question];
  std::string out = wrapped(question.ask, 2);
  for (const auto& [value, finding] : missing.options) {
    const auto name = question.names.find(value);
    out += labelled(
        "  - ",
        (name == question.names.end() ? value : name->second) + ": " + pack.findings[finding].id,
        4);
  }
  return out;
}

std::string in_words(const Session& session, const triage::Language& language,
                     const triage::Triage& triage) {
  std::string out;
  std::optional<triage::Standing> last;
  for (const triage::Heard& one : triage.heard) {
    if (last != one.standing) out += (last ? "\n" : "") + heading(one.standing) + "\n";
    last = one.standing;
    out += heard_text(session, one);
  }
  if (triage.heard.empty()) {
    out += wrapped(
        "None of the pack's symptoms was understood from these words. 'tickover list "
        "symptoms' shows them all.",
        0);
  }
  for (const triage::Missing& missing : triage.missing) {
    if (&missing == &triage.missing.front()) out += "\nNot said, and it decides what is meant\n";
    out += missing_text(session.diagnosis->model().pack, language, missing);
  }
  if (!triage.not_understood.empty()) {
    std::vector<std::string> words;
    for (const std::string& word : triage.not_understood) words.push_back(printable(word));
    const std::size_t more = words.size() - std::min(words.size(), kWordsShown);
    words.resize(words.size() - more);
    out += "\n" + wrapped("Not understood: " + join_words(words, ", ") +
                              (more > 0 ? " and " + std::to_string(more) + " more" : ""),
                          0);
  }
  return out + "\nNothing was recorded.\n";
}

Json report_json(const Session& session, const triage::Language& language,
                 const triage::Triage& triage) {
  const pack::Pack& pack = session.diagnosis->model().pack;
  Json out = {{"report", "triage"}, {"format", 1}};
  out["symptoms"] = Json::array();
  for (const triage::Heard& one : triage.heard) {
    const pack::Finding& finding = pack.findings[one.finding];
    Json phrases = Json::array();
    for (const std::string& phrase : one.phrases) phrases.push_back(printable(phrase));
    out["symptoms"].push_back({{"symptom", finding.id},
                               {"standing", std::string(name_of(one.standing))},
                               {"said", phrases},
                               {"ask", finding.ask},
                               {"recorded", printable(recorded(session, finding.id))},
                               {"record", record_lines(printable(session.path), finding)}});
  }
  out["missing"] = Json::array();
  for (const triage::Missing& missing : triage.missing) {
    const triage::ConditionQuestion& question = language.questions[missing.question];
    Json options = Json::array();
    for (const auto& [value, finding] : missing.options) {
      options.push_back({{"value", value}, {"symptom", pack.findings[finding].id}});
    }
    out["missing"].push_back(
        {{"condition", question.condition}, {"ask", question.ask}, {"options", options}});
  }
  out["not-understood"] = Json::array();
  for (const std::string& word : triage.not_understood) {
    out["not-understood"].push_back(printable(word));
  }
  return out;
}

std::string text_of(const Words& words) {
  std::string text;
  for (const std::string& word : words.several("words")) text += (text.empty() ? "" : " ") + word;
  if (text.empty()) words.required("words");
  if (text.size() <= kLongestText) return text;
  throw InputError(InputFault::usage, "",
                   "the rider's words are longer than " + std::to_string(kLongestText) + " bytes",
                   "a few sentences at a time");
}

int run_triage(World& world, const Words& words) {
  const std::string job = words.required("job"), text = text_of(words);
  const Session session = read_job(world, job);
  const triage::Language language = load_language(world);
  const triage::Triage triage = listen(world, session.diagnosis->model(), text);
  if (words.has("json")) {
    print_json(world.out, report_json(session, language, triage));
  } else {
    world.out << in_words(session, language, triage);
  }
  return kDone;
}

}  // namespace

Command triage_command() {
  return {"triage",
          "Proposes the symptoms that a rider's words may mean, with the lines that record each or "
          "deny it, asks for conditions that are missing, and says which words it did not "
          "understand. Records nothing.",
          {job_argument(), {.name = "words", .help = "what the rider says", .several = true}},
          "tickover triage grey-four.job \"it hangs up after a blip, pops when I shut off\"",
          {},
          run_triage};
}

}  // namespace tickover::cli
