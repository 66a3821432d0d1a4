#include "cli/sitting/guide.hpp"

#include <algorithm>
#include <ostream>
#include <utility>

#include "cli/exit_status.hpp"
#include "cli/parse.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/rider_words.hpp"
#include "cli/shop.hpp"
#include "cli/standing.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

using Texts = std::vector<std::string>;

constexpr std::size_t kCausesShown = 3;
constexpr double kLeastShown = 0.02;
constexpr std::size_t kShortestWords = 4;

struct Help {
  std::string word, text;
};

/// What can be typed at every prompt.
const std::vector<Help>& help() {
  static const std::vector<Help> all = {
      {"back",
       "take back the last thing done in this sitting (an entry is struck out, not erased)"},
      {"skip", "leave this out in this sitting; a check that cannot be done here"},
      {"unsure", "looked, and cannot say: that is recorded too"},
      {"why",
       "why this now, what each result would mean, what speaks for the leading cause; or "
       "why CAUSE"},
      {"causes", "what it may be, alone and together"},
      {"bench", "readings wanted and taken"},
      {"strip", "strip LAYER: record what was opened; strip alone lists the layers"},
      {"refit", "refit LAYER: record what was closed; refit alone closes everything"},
      {"note", "note TEXT: keep a remark"},
      {"other", "do something else; or other ID"},
      {"again", "tell this step once more, cautions first"},
      {"quit", "leave; 'tickover work' goes on at the same place"},
      {"help", "this list"}};
  return all;
}

std::string help_in_words() {
  std::string out = wrapped(
      "An answer is a number of the list, its word or the beginning of it, or a value with "
      "its unit. After it --minutes 12 or --note \"text\" may stand. Nothing is recorded "
      "before Enter. At any prompt:",
      0);
  for (const Help& one : help()) out += labelled("  " + one.word, one.text, 10);
  return out;
}

/// Tells tasks apart: the same check at the next place is the same task.
std::string key_of(const Task& task) {
  return std::to_string(static_cast<int>(task.kind)) + " " + task.what;
}

/// What follows the first word of a line.
std::string rest_of(const std::string& line) {
  const std::size_t begin = line.find_first_not_of(" \t");
  const std::size_t end = line.find_first_of(" \t", begin);
  const std::size_t rest = line.find_first_not_of(" \t\r", end);
  if (end == std::string::npos || rest == std::string::npos) return {};
  return line.substr(rest, line.find_last_not_of(" \t\r") + 1 - rest);
}

}  // namespace

Texts words_at_every_prompt() {
  Texts words;
  for (const Help& one : help()) words.push_back(one.word);
  return words;
}

Guide::Guide(World& world, const Words& words)
    : world_(world), path_(words.required("job")), session_(read_job(world, path_)) {
  sitting_.shop = shop_from(world, words, session_.diagnosis->model().pack);
}

int Guide::run() {
  if (world_.answers == nullptr) {
    throw InputError(InputFault::usage, "", "nobody is there to answer");
  }
  world_.out << wrapped("Guided work on " + printable(path_) + ", " +
                            session_.diagnosis->model().machine.name +
                            ". 'help' shows what can be typed; 'quit' leaves.",
                        0);
  plan();
  while (!leaving_ && plan_.task.kind != TaskKind::finished) {
    tell();
    const std::optional<std::string> line = world_.answers->line("> ");
    if (!line) break;
    take(*line);
  }
  if (plan_.task.kind == TaskKind::finished) {
    world_.out << "The job is finished. The job sheet: tickover sheet " << printable(path_) << "\n";
  } else {
    world_.out << "Left after entry " << session_.journal.entries.size() << "; 'tickover work "
               << printable(path_) << "' goes on here.\n";
  }
  return kDone;
}

void Guide::plan() {
  plan_ =
      plan_task(session_, sitting_,
                symptoms_in(world_, session_.diagnosis->model(), riders_words(session_.journal)));
}

void Guide::tell() {
  if (const std::string key = key_of(plan_.task); key != told_) {
    told_ = key;
    world_.out << "\n";
    const Diagnosis& job = *session_.diagnosis;
    if (plan_.advice && !plan_.advice->belief.contradiction && !sitting_.asked) {
      const std::string standing =
          standing_in_words(job, plan_.advice->belief, kCausesShown, kLeastShown);
      world_.out << (standing.empty() ? "No cause on the list is probable now.\n"
                                      : "Now most probable\n" + standing)
                 << "\n";
    }
    const std::string text = task_in_words(session_, plan_);
    world_.out << text << (text.empty() ? "" : "\n");
  }
  world_.out << question_in_words(session_, plan_);
}

/// A slip of the pen is explained, and asked again; what no answer can mend ends the sitting.
void Guide::take(const std::string& line) try {
  const Texts typed = words_of(line);
  if (typed.empty() || take_word(typed, line)) return;
  answer(typed, line);
} catch (const InputError& error) {
  if (error.fault() != InputFault::usage && error.fault() != InputFault::locked) throw;
  world_.out << wrapped("Not recorded: " + printable(error.rule()) + ".", 0);
  if (!error.hint().empty()) world_.out << labelled("  ", printable(error.hint()), 2);
}

bool Guide::take_word(const Texts& typed, const std::string& line) {
  const std::string& word = typed.front();
  if (word == "quit")
    leaving_ = true;
  else if (word == "help")
    world_.out << help_in_words();
  else if (word == "again")
    told_.clear();
  else if (word == "back")
    back();
  else if (word == "skip")
    skip();
  else if (word == "unsure")
    unsure();
  else if (word == "why")
    why(typed);
  else if (word == "causes" || word == "bench")
    show({word, path_});
  else if (word == "strip" || word == "refit")
    access(typed);
  else if (word == "note")
    note(rest_of(line));
  else if (word == "other")
    other(typed);
  else
    return false;
  return true;
}

void Guide::answer(Texts typed, const std::string& line) {
  const std::vector<Choice> choices = choices_of(session_, plan_);
  const Task task = plan_.task;
  const std::string word = chosen_word(choices, typed.front());
  if (task.kind == TaskKind::words) return take_riders_words(line);
  if (task.kind == TaskKind::choose) return choose(word);
  if (task.kind == TaskKind::hand_on && word == "other") return other({"other"});
  if (task.kind == TaskKind::hand_on && word == "finish") return choose(word);
  if (task.kind == TaskKind::verify && word == "changed" && typed.size() == 1) {
    sitting_.asked = TaskKind::changed;
    return plan();
  }
  const bool everywhere = std::find(typed.begin(), typed.end(), "all") != typed.end();
  Texts command_line =
      recording(path_, session_.diagnosis->model(), task, choices, std::move(typed));
  const bool last = task.kind != TaskKind::observe || everywhere || task.places.size() == 1;
  const std::string chosen = sitting_.chosen;
  if (last) sitting_.chosen.clear();
  const std::optional<TaskKind> asked = std::exchange(sitting_.asked, std::nullopt);
  try {
    record(std::move(command_line));
  } catch (const InputError&) {
    sitting_.chosen = chosen;
    sitting_.asked = asked;
    throw;
  }
}

/// By the command's own parser and checks.
void Guide::record(Texts command_line) {
  const Command& command = command_named(command_line.front());
  command_line.erase(command_line.begin());
  const Words words = parse(command, command_line);
  session_ = add_entry(world_, words, command.entry(words));
  world_.out << entry_in_words(session_);
  done_.push_back({session_.journal.entries.size(), ""});
  plan();
}

void Guide::back() {
  if (sitting_.asked || !sitting_.chosen.empty()) {
    sitting_.asked.reset();
    sitting_.chosen.clear();
    return plan();
  }
  if (done_.empty()) {
    world_.out << wrapped(
        "Nothing was done in this sitting that could be taken back. An earlier "
        "entry is struck out with: tickover strike " +
            printable(path_) + " ENTRY --reason ...",
        0);
    return;
  }
  const Done last = done_.back();
  done_.pop_back();
  if (last.entry == 0) {
    std::vector<std::string>& without = sitting_.shop.constraints.without;
    without.erase(std::find(without.begin(), without.end(), last.skipped));
    world_.out << "No longer skipped: " << last.skipped << "\n";
    return plan();
  }
  record({"strike", path_, std::to_string(last.entry), "--reason", "taken back at once"});
  done_.pop_back();  // a strike is not taken back in its turn
}

void Guide::skip() {
  const Task& task = plan_.task;
  if (task.kind != TaskKind::observe && task.kind != TaskKind::repair) {
    world_.out << wrapped("This cannot be skipped. 'other' does something else, 'quit' leaves.", 0);
    return;
  }
  sitting_.shop.constraints.without.push_back(task.what);
  done_.push_back({0, task.what});
  sitting_.chosen.clear();
  world_.out << "Skipped in this sitting: " << task.what << "\n";
  plan();
}

void Guide::unsure() {
  if (plan_.task.kind == TaskKind::observe) return answer({"unsure"}, "unsure");
  world_.out << wrapped(
      "There is nothing to be unsure of here. 'skip' or 'other' goes on without "
      "it, 'quit' leaves.",
      0);
}

void Guide::why(const Texts& typed) {
  const Diagnosis& job = *session_.diagnosis;
  if (typed.size() > 1) {
    Texts line = {"why", path_};
    line.insert(line.end(), typed.begin() + 1, typed.end());
    return show(std::move(line));
  }
  if (plan_.advice && !plan_.advice->proposals.empty()) {
    const plan::Proposal& proposal = plan_.advice->proposals.front();
    world_.out << head_in_words(job, *plan_.advice, proposal);
    if (!proposal.forecasts.empty()) world_.out << forecasts_in_words(job, proposal);
    world_.out << "\n";
  }
  const belief::Belief belief = job.infer();
  show({"why", path_, job.model().causes[belief::largest_first(belief.present_now, 1).front()].id});
}

void Guide::other(const Texts& typed) {
  if (typed.size() > 1) return choose(typed[1]);
  sitting_.chosen.clear();
  sitting_.asked = TaskKind::choose;
  plan();
}

void Guide::choose(const std::string& id) {
  const pack::Pack& pack = session_.diagnosis->model().pack;
  const bool other_than_finding =
      id == "verify" || id == "finish" || pack::find(pack.repairs, id).has_value();
  if (!other_than_finding) finding_named(session_.diagnosis->model(), id);  // refuses what is not
  sitting_.chosen = id;
  sitting_.asked.reset();
  told_.clear();
  plan();
}

void Guide::access(const Texts& typed) {
  if (typed.front() == "strip" && typed.size() == 1) {
    world_.out << "Now " << access_in_words(*session_.diagnosis) << ". Layers:\n";
    for (const pack::Layer& layer : session_.diagnosis->model().pack.layers) {
      if (!session_.diagnosis->model().applies(layer.needs)) continue;
      world_.out << labelled("  strip " + layer.id, layer.name, 26);
    }
    return;
  }
  Texts line = {typed.front(), path_};
  line.insert(line.end(), typed.begin() + 1, typed.end());
  record(std::move(line));
}

void Guide::note(const std::string& text) {
  if (text.empty()) {
    world_.out << "A remark follows the word: note tank was a quarter full\n";
    return;
  }
  record({"note", path_, "--", text});
}

/// A symptom's id is gone into at once; words are kept with the job, and what they may mean is
/// asked one by one.
void Guide::take_riders_words(const std::string& line) {
  const Texts typed = words_of(line);
  const std::vector<std::string> known =
      pack::ids_of(session_.diagnosis->model().pack.findings);  // recording replaces the pack
  if (typed.size() == 1 && std::count(known.begin(), known.end(), typed.front()) > 0) {
    return choose(typed.front());
  }
  if (line.size() < kShortestWords) {
    throw InputError(InputFault::usage, "", "too short to be the rider's words",
                     "for instance: the revs hang after a blip");
  }
  record({"note", path_, "--", kRider + line});
  if (plan_.task.kind != TaskKind::words) return;
  world_.out << wrapped(
      "It is kept, but no symptom goes by these words. Try others, or one of "
      "these:",
      0);
  for (const pack::Finding& finding : session_.diagnosis->model().pack.findings) {
    const bool symptom = finding.kind == pack::Kind::symptom;
    if (symptom) world_.out << labelled("  " + finding.id, finding.name, 26);
  }
}

/// Commands that only tell.
void Guide::show(Texts command_line) { dispatch(world_, command_line); }

}  // namespace tickover::cli
