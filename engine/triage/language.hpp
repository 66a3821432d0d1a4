/// @file
/// How riders' sentences are read: language.json, data of the pack.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace tickover::triage {

/// What parts a word from the one before it.
enum class Gap { none, weak, strong };

/// A word, or several that count as one. Compared by `stem`.
struct Token {
  std::string stem;
  std::vector<std::size_t> words;  ///< numbers of the words it stands for
  Gap gap = Gap::none;             ///< before it: weak is a comma, strong the end of a sentence
};

/// A text as words and as tokens, in order.
struct Reading {
  std::vector<std::string> words;  ///< in lower case, as written
  std::vector<Token> tokens;
};

/// A condition of a symptom ("throttle"), one of its values, and how riders say it.
struct ConditionWords {
  std::string condition, value;
  std::vector<std::vector<std::string>> say;  ///< each as stems
};

/// A condition and how it is asked for, with the name of each value.
struct ConditionQuestion {
  std::string condition, ask;
  std::map<std::string, std::string> names;  ///< "wide-open" -> "wide open"
};

/// Words that count as the same, endings, words that turn a sentence round, and conditions.
class Language {
 public:
  /// Without data: words count as the same only when they are spelt so.
  Language() = default;

  /// Words of letters, digits and apostrophes; hyphens part words. Fillers, breaks and joins are no
  /// tokens. Groups of words that count as the same are one, which bears the stems of the group's
  /// first.
  Reading read(std::string_view text) const;
  /// The stems of its tokens.
  std::vector<std::string> stems_of(std::string_view phrase) const;

  bool denies(const std::string& stem) const;
  /// False for denials and general words ("runs"), which mean no symptom by themselves.
  bool telling(const std::string& stem) const;
  bool denies_after(const std::string& stem) const;

  /// A word without its ending: "hangs" and "hanging" are the same. The longest of `endings` that
  /// leaves three letters goes, then one of two equal last letters, and a last e.
  std::string stem(const std::string& word) const;

  std::vector<std::string> endings;                         ///< longest first
  std::set<std::string> whole;                              ///< from which no ending is cut
  std::set<std::string> fillers, breaks, joins, subjects;   ///< as written
  std::set<std::string> general;                            ///< stems
  std::vector<std::vector<std::vector<std::string>>> same;  ///< groups of phrases, as stems
  std::vector<ConditionWords> conditions;
  std::vector<ConditionQuestion> questions;
  std::size_t slack = 0;  ///< other tokens that may stand between the words of a phrase
  std::size_t reach = 0;  ///< tokens over which a denial reaches

 private:
  std::vector<Token> words_of(std::string_view text, std::vector<std::string>& words) const;
  bool silent(const std::string& word) const;
  std::vector<Token> without_silent(const std::vector<Token>& all,
                                    const std::vector<std::string>& words) const;
  std::vector<Token> grouped(const std::vector<Token>& words) const;
  std::size_t group_at(const std::vector<Token>& words, std::size_t begin, std::string& stem) const;
};

/// Parses and checks `text`; `schema` is that of pack.schema.json, `file` names the text in errors.
/// Throws InputError (data).
Language load_language(const std::string& text, const std::string& schema, const std::string& file);

}  // namespace tickover::triage
