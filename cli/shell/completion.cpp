#include "cli/shell/completion.hpp"

#include <algorithm>

#include "cli/shell/named_words.hpp"

namespace tickover::cli {
namespace {

using Texts = std::vector<std::string>;

/// Candidates that go on from `begun`. In a list parted by commas only its last part is still being
/// written, and what stands before it is kept.
Completion begun_with(Completion all, const std::string& begun, bool list) {
  const std::size_t comma = list ? begun.rfind(',') : std::string::npos;
  const std::string before = comma == std::string::npos ? "" : begun.substr(0, comma + 1);
  for (Candidate& one : all.candidates) one.word = before + one.word;
  std::erase_if(all.candidates, [&](const Candidate& one) { return !one.word.starts_with(begun); });
  return all;
}

const Command* named(const std::vector<Command>& table, const std::string& name) {
  const auto found =
      std::find_if(table.begin(), table.end(), [&](const auto& one) { return one.name == name; });
  return found == table.end() ? nullptr : &*found;
}

Completion names_of(const std::vector<Command>& table) {
  Completion out;
  for (const Command& command : table) {
    const std::string word = command.name.substr(command.name.rfind(' ') + 1);
    if (!command.hidden) out.candidates.push_back({word, command.summary});
  }
  return out;
}

/// A line of one command, read as far as it goes.
class BegunLine {
 public:
  BegunLine(World& world, const Command& command) : world_(world), command_(command) {}

  Completion complete(const Texts& before, const std::string& begun) {
    for (const std::string& word : before) take(word);
    if (awaited_ != nullptr) {
      const bool list = awaited_->kind == Kind::texts || awaited_->names == Names::cylinders;
      return begun_with(of(awaited_->names, awaited_->choices), begun, list);
    }
    if (begun.starts_with("-")) return begun_with(options(), begun, false);
    const Positional* next = positional();
    if (next == nullptr) return begun_with(options(), begun, false);
    return begun_with(of(next->names, next->choices), begun, next->names == Names::layer);
  }

 private:
  void take(const std::string& word) {
    if (awaited_ != nullptr) {
      awaited_ = nullptr;
    } else if (word.starts_with("--")) {
      for (const Option& option : options_) {
        if (word == "--" + option.name && option.kind != Kind::flag) awaited_ = &option;
      }
    } else if (!word.starts_with("-") || word.size() < 3) {
      take_positional(word);
    }
  }

  void take_positional(const std::string& word) {
    const Positional* here = positional();
    if (here == nullptr) return;
    if (here->names == Names::job) so_far_.job = word;
    if (here->names == Names::observable) so_far_.what = word;
    if (!here->several) ++taken_;
  }

  const Positional* positional() const {
    return taken_ < command_.positional.size() ? &command_.positional[taken_] : nullptr;
  }

  Completion options() const {
    Completion out;
    for (const Option& option : options_)
      out.candidates.push_back({"--" + option.name, option.help});
    return out;
  }

  Completion of(Names names, const Texts& choices) {
    if (choices.empty()) return words_named(world_, names, so_far_);
    Completion out;
    for (const std::string& choice : choices) out.candidates.push_back({choice, ""});
    return out;
  }

  World& world_;
  const Command& command_;
  const std::vector<Option> options_ = all_options(command_);
  const Option* awaited_ = nullptr;  ///< its value comes next
  std::size_t taken_ = 0;            ///< arguments known by their place
  LineSoFar so_far_;
};

}  // namespace

Completion complete(World& world, Texts words) {
  std::erase(words, "=");  // bash hands over "--for=rider" as three words
  if (words.empty()) words.emplace_back();
  const std::string begun = words.back();
  words.pop_back();
  if (words.empty()) return begun_with(names_of(commands()), begun, false);
  const Command* command = named(commands(), words.front());
  if (command == nullptr) return {};
  words.erase(words.begin());
  if (!command->parts.empty()) {
    if (words.empty()) return begun_with(names_of(command->parts), begun, false);
    command = named(command->parts, command->name + " " + words.front());
    if (command == nullptr) return {};
    words.erase(words.begin());
  }
  return BegunLine(world, *command).complete(words, begun);
}

}  // namespace tickover::cli
