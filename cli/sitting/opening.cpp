#include "cli/sitting/opening.hpp"

#include <algorithm>
#include <ostream>

#include "cli/opened.hpp"
#include "cli/parse.hpp"
#include "cli/print.hpp"
#include "cli/sitting/answer.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

using Texts = std::vector<std::string>;

class Opening {
 public:
  Opening(World& world, const std::string& path)
      : world_(world), path_(path), pack_(load_pack(world)) {
    for (const std::string& file : world.store.names(world.knowledge + "/machines", ".json")) {
      const Machine machine = load_machine_sheet(world, file.substr(0, file.size() - 5));
      machines_.push_back({machine.id, machine.name});
    }
    for (const pack::Risk& risk : pack_.risks) risks_.push_back({risk.id, risk.name});
  }

  bool run() {
    world_.out << wrapped("There is no job " + printable(path_) +
                              " yet: three questions open it. At each, 'back' goes to the one "
                              "before, 'help' shows the list again, and 'quit' leaves without "
                              "writing anything.",
                          0);
    while (question_ < 3) {
      tell();
      const std::optional<std::string> line = world_.answers->line("> ");
      if (!line) return false;
      const Texts typed = words_of(*line);
      if (typed.empty()) continue;
      if (typed.front() == "quit" && typed.size() == 1) return false;
      if (typed.front() == "help" && typed.size() == 1) {
        told_ = -1;  // the list and the question are all there is to know here
      } else if (typed.front() == "back" && typed.size() == 1) {
        question_ -= question_ > 0 ? 1 : 0;
      } else {
        take(typed, *line);
      }
    }
    world_.out << "\n";
    return true;
  }

 private:
  /// A list is told once, the question again after every slip.
  void tell() {
    if (told_ == question_) return;
    told_ = question_;
    world_.out << "\n";
    if (question_ == 0) {  // the question stands last, where it is still seen after a long list
      world_.out << "Machines\n";
      list(machines_, true);
    } else if (question_ == 1) {
      world_.out << "What may be known of it\n";
      list(risks_, false);
    }
    ask();
  }

  void ask() {
    static const Texts questions = {
        "Which machine? A number or id, or the path of a sheet of your own.",
        "What of this holds for it? Numbers, as in 1 4; or none.",
        "What does the rider say? In the rider's own words; or skip."};
    world_.out << wrapped(questions[static_cast<std::size_t>(question_)], 0);
  }

  void list(const std::vector<Choice>& choices, bool with_id) {
    for (std::size_t i = 0; i < choices.size(); ++i) {
      const std::string number = std::to_string(i + 1);
      const std::string label = std::string(number.size() < 2 ? 3 : 2, ' ') + number + "  ";
      world_.out << labelled(label, (with_id ? choices[i].word + ": " : "") + choices[i].text,
                             label.size());
    }
  }

  /// A wrong answer is explained, and asked again.
  void take(const Texts& typed, const std::string& line) try {
    if (question_ == 0) take_machine(typed);
    if (question_ == 1) take_risks(typed);
    if (question_ == 2) take_complaint(typed, line);
    ++question_;
  } catch (const InputError& error) {
    if (error.fault() != InputFault::usage && error.fault() != InputFault::missing) throw;
    world_.out << wrapped("Not taken: " + printable(error.rule()) + ".", 0);
    if (!error.hint().empty()) world_.out << labelled("  ", printable(error.hint()), 2);
    ask();
  }

  void take_machine(const Texts& typed) {
    const std::string id = chosen_word(machines_, typed.front());
    refuse_number(id, machines_);
    refuse_if_several(id);
    load_machine_sheet(world_, id);  // refuses what is none
    machine_ = id;
  }

  static void refuse_number(const std::string& word, const std::vector<Choice>& choices) {
    if (word.find_first_not_of("0123456789") != std::string::npos) return;
    throw InputError(InputFault::usage, "", "there is no number " + word,
                     "the list goes from 1 to " + std::to_string(choices.size()));
  }

  /// "twin" is the beginning of two.
  void refuse_if_several(const std::string& begun) const {
    Texts meant;
    for (const Choice& one : machines_) {
      if (one.word == begun) return;
      if (one.word.starts_with(begun)) meant.push_back(one.word);
    }
    if (meant.size() < 2) return;
    throw InputError(InputFault::usage, "", "'" + begun + "' may mean several",
                     join_words(meant, " or "));
  }

  void take_risks(const Texts& typed) {
    static const Texts nothing = {"none", "no", "n", "skip"};
    const bool none = typed.size() == 1 &&
                      std::find(nothing.begin(), nothing.end(), typed.front()) != nothing.end();
    if (none) return chosen_.clear();
    Texts chosen;
    for (const std::string& word : parted(typed)) {
      const std::string id = chosen_word(risks_, word);
      refuse_number(id, risks_);
      if (!pack::find(pack_.risks, id)) {
        throw unknown_name(InputFault::usage, "", "risk factor", id, pack::ids_of(pack_.risks));
      }
      chosen.push_back(id);
    }
    chosen_ = chosen;
  }

  /// The last answer: with it the job is written.
  void take_complaint(const Texts& typed, const std::string& line) {
    Texts words = {path_, "--machine", machine_};
    for (const std::string& risk : chosen_) words.insert(words.end(), {"--risk", risk});
    if (typed.size() > 1 || typed.front() != "skip") words.push_back("--complaint=" + line);
    const Opened opened = open_job(world_, parse(command_named("open"), words));
    world_.out << opened_in_words(opened);
  }

  World& world_;
  const std::string path_;
  const pack::Pack pack_;
  std::vector<Choice> machines_, risks_;
  int question_ = 0, told_ = -1;
  std::string machine_;
  Texts chosen_;
};

}  // namespace

bool ask_and_open(World& world, const std::string& path) { return Opening(world, path).run(); }

}  // namespace tickover::cli
