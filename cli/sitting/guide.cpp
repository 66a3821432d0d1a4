#include "cli/sitting/guide.hpp"

#include <algorithm>
#include <ostream>
#include <utility>

#include "cli/earlier_words.hpp"
#include "cli/exit_status.hpp"
#include "cli/forecasts.hpp"
#include "cli/parse.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/rider_words.hpp"
#include "cli/shop.hpp"
#include "cli/sitting/named.hpp"
#include "cli/sitting/prompt_words.hpp"
#include "cli/sitting/screens.hpp"
#include "cli/standing.hpp"
#include "engine/evidence/answers.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

using Texts = std::vector<std::string>;

constexpr std::size_t kStillShown = 3;
constexpr double kLeastStanding = 0.02;
constexpr std::size_t kShortestWords = 4;

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
    std::optional<std::string> line = tell();
    if (!line && !leaving_) line = world_.answers->line("> ");
    if (!line) break;
    take(*line);
  }
  if (plan_.task.kind == TaskKind::finished) {
    world_.out << "The job is finished. The job sheet: tickover sheet " << printable(path_) << "\n"
               << wrapped(how_to_go_on(path_), 0);
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

std::string Guide::standing() {
  if (!plan_.advice || plan_.advice->belief.contradiction || sitting_.asked) return {};
  const std::string causes =
      standing_in_words(*session_.diagnosis, plan_.advice->belief, kStillShown, kLeastStanding);
  const std::string text =
      causes.empty() ? "No cause on the list is probable now.\n" : "Now most probable\n" + causes;
  return std::exchange(told_standing_, text) == text ? "" : text + "\n";
}

std::optional<std::string> Guide::tell() {
  std::string text;
  if (const std::string key = key_of(plan_.task); key != told_) {
    told_ = key;
    const std::string task = task_in_words(session_, plan_);
    text = "\n" + standing() + task + (task.empty() ? "" : "\n");
  }
  return show_in_screens(text + question_in_words(session_, plan_));
}

std::optional<std::string> Guide::show_in_screens(const std::string& text) {
  constexpr std::size_t kBelow = 3;  // how to go on, the prompt, and what is typed there
  const std::optional<std::size_t> rows = world_.answers->rows();
  if (!rows) {
    world_.out << text;
    return std::nullopt;
  }
  const std::vector<std::string> parts = screens(text, std::max(*rows, 2 * kBelow) - kBelow);
  for (std::size_t i = 0; i + 1 < parts.size(); ++i) {
    world_.out << parts[i] << "Enter shows what follows.\n";
    const std::optional<std::string> line = world_.answers->line("> ");
    if (!line) leaving_ = true;
    if (!line || !words_of(*line).empty()) return line;
  }
  world_.out << parts.back();
  return std::nullopt;
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
    world_.out << help_at_prompt();
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
  else if (closes_now(typed))
    other({"other", word});
  else
    return false;
  return true;
}

/// Asks for the road test, or to close the job, where something else is at hand.
bool Guide::closes_now(const Texts& typed) const {
  const TaskKind kind = plan_.task.kind;
  if (typed.size() != 1 || kind == TaskKind::words || kind == TaskKind::choose) return false;
  if (typed.front() == "verify") return kind != TaskKind::verify;
  return typed.front() == "finish" && kind != TaskKind::finish && kind != TaskKind::hand_on;
}

void Guide::answer(Texts typed, const std::string& line) {
  const std::vector<Choice> choices = choices_of(session_, plan_);
  const Task task = plan_.task;
  const std::string word = chosen_word(choices, typed.front());
  if (task.kind == TaskKind::words) return take_riders_words(line);
  if (task.kind == TaskKind::choose) return choose(word == typed.front() ? one_text(typed) : word);
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
    record(std::move(command_line), last ? planned_minutes() : 0);
  } catch (const InputError&) {
    sitting_.chosen = chosen;
    sitting_.asked = asked;
    throw;
  }
  if (plan_.task.what != sitting_.chosen && !last) sitting_.chosen.clear();  // told at all places
}

/// Of the task at hand, all its places.
double Guide::planned_minutes() const {
  if (!plan_.advice || !plan_.task.proposal) return 0;
  const Diagnosis& job = *session_.diagnosis;
  return plan::minutes_to_begin(job.workshop(), job.evidence().open_layers,
                                plan_.advice->proposals[*plan_.task.proposal]);
}

/// Of the time left today, where that is limited.
void Guide::spend(double minutes) {
  std::optional<double>& left = sitting_.shop.constraints.minutes;
  if (!left || minutes == 0) return;
  *left = std::max(*left - minutes, 0.0);
  world_.out << "Left today: about " << minutes_in_words(*left) << ".\n";
}

/// By the command's own parser and checks.
void Guide::record(Texts command_line, double planned) {
  const Command& command = command_named(command_line.front());
  command_line.erase(command_line.begin());
  const Words words = parse(command, command_line);
  session_ = add_entry(world_, words, command.entry(words));
  world_.out << entry_in_words(session_);
  const double minutes = session_.journal.entries.back().minutes.value_or(planned);
  done_.push_back({session_.journal.entries.size(), "", minutes});
  spend(minutes);
  plan();
}

void Guide::back() {
  const bool only_chosen = !sitting_.chosen.empty() && done_.size() <= chosen_after_;
  if (sitting_.asked || only_chosen) {
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
  spend(-last.minutes);
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
  done_.push_back({0, task.what, 0});
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
    const auto options = first_option(typed);
    Texts line = {"why", path_, cause_named(job.model(), one_text({typed.begin() + 1, options}))};
    line.insert(line.end(), options, typed.end());
    return show(std::move(line));
  }
  if (plan_.advice && !plan_.advice->proposals.empty()) {
    const plan::Proposal& proposal = plan_.advice->proposals.front();
    world_.out << head_in_words(job, plan_.shop, *plan_.advice, proposal);
    if (!proposal.forecasts.empty()) world_.out << forecasts_in_words(job, proposal);
    world_.out << "\n";
  }
  const belief::Belief belief = job.infer();
  show({"why", path_, job.model().causes[belief::largest_first(belief.present_now, 1).front()].id});
}

void Guide::other(const Texts& typed) {
  if (typed.size() > 1) return choose(one_text({typed.begin() + 1, typed.end()}));
  sitting_.chosen.clear();
  sitting_.asked = TaskKind::choose;
  plan();
}

void Guide::choose(const std::string& words) {
  const Model& model = session_.diagnosis->model();
  const bool closing = words == "verify" || words == "finish";
  const std::string id = closing ? words : work_named(model, words);
  sitting_.again_after.reset();
  if (!closing && !pack::find(model.pack.repairs, id)) {
    const bool told = unheard(*session_.diagnosis, finding_named(model, id)).empty();
    if (told) sitting_.again_after = session_.journal.entries.size();
  }
  sitting_.chosen = id;
  chosen_after_ = done_.size();
  sitting_.asked.reset();
  told_.clear();
  plan();
}

void Guide::access(const Texts& typed) {
  if (typed.front() == "strip" && typed.size() == 1) {
    world_.out << wrapped("Now " + access_in_words(*session_.diagnosis) + ". Layers:", 0);
    for (const pack::Layer& layer : session_.diagnosis->model().pack.layers) {
      if (!session_.diagnosis->model().applies(layer.needs)) continue;
      world_.out << labelled("  strip " + layer.id, layer.name, 26);
    }
    return;
  }
  Texts line = {typed.front(), path_};
  const auto options = first_option(typed);
  if (options - typed.begin() > 1) {
    line.push_back(
        layer_named(session_.diagnosis->model(), one_text({typed.begin() + 1, options})));
  }
  line.insert(line.end(), options, typed.end());
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
