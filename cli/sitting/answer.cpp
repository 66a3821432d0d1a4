#include "cli/sitting/answer.hpp"

#include <algorithm>

#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"

namespace tickover::cli {
namespace {

using Texts = std::vector<std::string>;

bool is_number(const std::string& word) {
  return !word.empty() && word.size() < 7 &&
         word.find_first_not_of("0123456789") == std::string::npos;
}

void append(Texts& to, const Texts& more) { to.insert(to.end(), more.begin(), more.end()); }

/// "2", "1,3", "all" or the name of a cylinder, said after an answer.
bool says_where(const Machine& machine, const std::string& word) {
  const bool digits = !word.empty() && word.find_first_not_of("0123456789,") == std::string::npos;
  return digits || word == "all" ||
         std::any_of(machine.cylinders.begin(), machine.cylinders.end(),
                     [&](const std::string& name) { return lower_case(name) == lower_case(word); });
}

/// The last word says where: after an answer always, after a value where its unit stands before.
bool ends_with_place(const Machine& machine, const Texts& answer, bool is_value) {
  if (answer.empty()) return false;
  if (answer.back() == "all") return is_value || answer.size() > 1;
  if (answer.size() < 2 || !says_where(machine, answer.back())) return false;
  if (!is_value) return true;
  const std::string& before = answer[answer.size() - 2];
  const std::size_t unit = before.find_first_not_of("0123456789.,/");
  return unit != std::string::npos && known_unit(before.substr(unit));
}

Texts observation(const std::string& job, const Model& model, const Task& task,
                  const std::vector<Choice>& choices, const Texts& typed) {
  const std::string first = choices.empty() ? "a value" : choices.front().word;
  const auto options = first_option(typed);
  Texts answer(typed.begin(), options);
  std::string where = cylinders_at(model, {task.places.front()});
  if (ends_with_place(model.machine, answer, choices.empty())) {
    where = answer.back() == "all" ? cylinders_at(model, task.places) : answer.back();
    answer.pop_back();
  }
  if (answer.empty() || answer.front() == "all") {
    throw InputError(InputFault::usage, "", "'all' says where, not what",
                     "the answer stands before it: " + first + " all");
  }
  if (!choices.empty() && answer.size() > 1) {
    throw InputError(InputFault::usage, "", "'" + one_text(answer) + "' is more than one answer",
                     "one word, and where it was seen: " + first + " 2");
  }
  answer.front() = chosen_word(choices, answer.front());
  Texts line = {"record", job, task.what};
  if (!where.empty() && model.machine.cylinders.size() > 1) append(line, {"--cyl", where});
  if (task.asked) line.push_back("--asked");
  append(line, answer);
  line.insert(line.end(), options, typed.end());
  return line;
}

Texts repair(const std::string& job, const Model& model, const Task& task,
             const std::vector<Choice>& choices, Texts typed) {
  if (chosen_word(choices, typed.front()) != "done") {
    throw InputError(InputFault::usage, "",
                     "'" + typed.front() + "' does not say whether it was done",
                     "done; or skip, and it will not be proposed again in this sitting");
  }
  typed.erase(typed.begin());
  std::string where = cylinders_at(model, task.places);
  if (!typed.empty() && !typed.front().starts_with("--")) {
    where = typed.front();
    typed.erase(typed.begin());
  }
  Texts line = {"repair", job, task.what};
  if (!where.empty()) append(line, {"--cyl", where});
  append(line, typed);
  return line;
}

/// Each word a value of `option`.
Texts as_options(const std::string& option, const std::vector<Choice>& choices,
                 const Texts& typed) {
  const auto end = first_option(typed);
  Texts line;
  for (const std::string& word : parted({typed.begin(), end})) {
    if (word != "none") append(line, {option, chosen_word(choices, word)});
  }
  line.insert(line.end(), end, typed.end());
  return line;
}

Texts strike(const std::string& job, const Texts& typed) {
  std::string reason;
  for (std::size_t i = 1; i < typed.size(); ++i) reason += (i > 1 ? " " : "") + typed[i];
  if (reason.empty()) reason = "contradicts what else was recorded";
  return {"strike", job, typed.front(), "--reason", reason};
}

/// What is meant by the shortest words of all, where the choices have it.
std::string yes_or_no(const std::vector<Choice>& choices, const std::string& word) {
  const auto offered = [&](const char* one) {
    return std::any_of(choices.begin(), choices.end(),
                       [&](const Choice& choice) { return choice.word == one; });
  };
  if (word == "y" && offered("yes")) return "yes";
  if (word != "n" && word != "no" && word != "none") return word;
  return offered("no") ? "no" : offered("none") ? "none" : word;
}

}  // namespace

Texts::const_iterator first_option(const Texts& typed) {
  return std::find_if(typed.begin(), typed.end(),
                      [](const std::string& word) { return word.starts_with("--"); });
}

std::string one_text(const Texts& words) { return join_words(words, " ", " "); }

Texts parted(const Texts& typed) {
  Texts words;
  for (const std::string& word : typed) {
    for (std::size_t begin = 0; begin <= word.size();) {
      const std::size_t end = std::min(word.find(',', begin), word.size());
      if (end > begin) words.push_back(word.substr(begin, end - begin));
      begin = end + 1;
    }
  }
  return words;
}

Texts words_of(const std::string& line) {
  Texts words;
  std::string word;
  bool inside = false, quoted = false;
  for (const char c : line) {
    const bool blank = c == ' ' || c == '\t' || c == '\r';
    if (c == '"') {
      quoted = !quoted;
      inside = true;
    } else if (!blank || quoted) {
      word += c;
      inside = true;
    } else if (inside) {
      words.push_back(word);
      word.clear();
      inside = false;
    }
  }
  if (inside) words.push_back(word);
  return words;
}

std::string chosen_word(const std::vector<Choice>& choices, const std::string& word) {
  const std::string plain = yes_or_no(choices, word);
  if (plain != word) return plain;
  std::vector<std::string> begun;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (choices[i].word == word || (is_number(word) && std::stoul(word) == i + 1)) {
      return choices[i].word;
    }
    if (word.size() >= 2 && word != "no" && choices[i].word.starts_with(word))
      begun.push_back(choices[i].word);
  }
  return begun.size() == 1 ? begun.front() : word;
}

Texts recording(const std::string& job, const Model& model, const Task& task,
                const std::vector<Choice>& choices, Texts typed) {
  Texts line;
  switch (task.kind) {
    case TaskKind::observe:
      return observation(job, model, task, choices, std::move(typed));
    case TaskKind::repair:
      return repair(job, model, task, choices, std::move(typed));
    case TaskKind::verify:
      typed.front() = chosen_word(choices, typed.front());
      line = {"verify", job};
      append(line, typed);
      return line;
    case TaskKind::changed:
      line = {"verify", job, "changed"};
      append(line, as_options("--gone", choices, std::move(typed)));
      return line;
    case TaskKind::finish:
      line = {"finish", job};
      append(line, as_options("--cause", choices, std::move(typed)));
      return line;
    case TaskKind::strike:
      return strike(job, typed);
    default:
      throw InputError(InputFault::usage, "", "nothing can be recorded here", "'help' tells more");
  }
}

}  // namespace tickover::cli
