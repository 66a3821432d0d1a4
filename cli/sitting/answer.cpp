#include "cli/sitting/answer.hpp"

#include <algorithm>

#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

using Texts = std::vector<std::string>;

bool is_number(const std::string& word) {
  return !word.empty() && word.size() < 7 &&
         word.find_first_not_of("0123456789") == std::string::npos;
}

void append(Texts& to, const Texts& more) { to.insert(to.end(), more.begin(), more.end()); }

/// "1,3 5" as three words.
Texts listed(const Texts& typed) {
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

/// Where options begin; what stands before them is the answer itself.
Texts::iterator first_option(Texts& typed) {
  return std::find_if(typed.begin(), typed.end(),
                      [](const std::string& word) { return word.starts_with("--"); });
}

Texts observation(const std::string& job, const Model& model, const Task& task,
                  const std::vector<Choice>& choices, Texts typed) {
  const auto all = std::find(typed.begin(), first_option(typed), "all");
  const bool everywhere = all != first_option(typed);
  if (everywhere) typed.erase(all);
  if (typed.empty()) {
    throw InputError(InputFault::usage, "", "'all' says where, not what",
                     "the answer stands before it: " +
                         (choices.empty() ? "a value, then all" : choices.front().word + " all"));
  }
  Texts line = {"record", job, task.what};
  const std::string where =
      cylinders_at(model, everywhere ? task.places : std::vector<Place>{task.places.front()});
  if (!where.empty() && model.machine.cylinders.size() > 1) append(line, {"--cyl", where});
  typed.front() = chosen_word(choices, typed.front());
  append(line, typed);
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
Texts as_options(const std::string& option, const std::vector<Choice>& choices, Texts typed) {
  const auto end = first_option(typed);
  Texts line;
  for (const std::string& word : listed({typed.begin(), end})) {
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

}  // namespace

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
  std::vector<std::string> begun;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (choices[i].word == word || (is_number(word) && std::stoul(word) == i + 1)) {
      return choices[i].word;
    }
    if (word.size() >= 2 && choices[i].word.starts_with(word)) begun.push_back(choices[i].word);
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
