#include "cli/sitting/prompt_words.hpp"

#include "cli/print.hpp"

namespace tickover::cli {
namespace {

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
      {"other", "do something else; or other ID, or words of its name"},
      {"verify", "it is closed up and runs: say how the road test went"},
      {"finish", "close the job"},
      {"again", "tell this step once more, cautions first"},
      {"quit", "leave; 'tickover work' goes on at the same place"},
      {"help", "this list"}};
  return all;
}

}  // namespace

std::string help_at_prompt() {
  std::string out = wrapped(
      "An answer is a number of the list, its word or the beginning of it, or a value with "
      "its unit. A cylinder may follow it (clear 2), or all; then --minutes 12 or --note "
      "\"text\". Nothing is recorded before Enter. At any prompt:",
      0);
  for (const Help& one : help()) out += labelled("  " + one.word, one.text, 10);
  return out;
}

std::vector<std::string> words_at_every_prompt() {
  std::vector<std::string> words;
  for (const Help& one : help()) words.push_back(one.word);
  return words;
}

}  // namespace tickover::cli
