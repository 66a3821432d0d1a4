#include "engine/triage/language.hpp"

#include <algorithm>
#include <cctype>

namespace tickover::triage {
namespace {

/// The first stem of the two groups of denials: words that deny what follows, and what went before.
const std::string kNot = "not", kGone = "gone";

bool letter(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return std::isalnum(byte) != 0 || byte >= 0x80 || c == '\'';
}

/// Typographic apostrophes as plain ones.
std::string plain(std::string_view text) {
  static constexpr std::string_view kCurly = "\xE2\x80\x99";
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool curly = text.substr(i, kCurly.size()) == kCurly;
    out += curly ? '\'' : text[i];
    if (curly) i += kCurly.size() - 1;
  }
  return out;
}

Gap gap_of(char c) {
  if (c == ',' || c == '(' || c == ')') return Gap::weak;
  return std::string_view(".;:!?").find(c) != std::string_view::npos ? Gap::strong : Gap::none;
}

}  // namespace

std::string Language::stem(const std::string& word) const {
  std::string out = word;
  if (whole.count(word) > 0) return out;
  for (const std::string& ending : endings) {
    if (out.size() < ending.size() + 3 || !out.ends_with(ending)) continue;
    out.erase(out.size() - ending.size());
    break;
  }
  const std::size_t size = out.size();
  if (size > 3 && out[size - 1] == out[size - 2]) out.pop_back();
  if (out.size() > 2 && out.back() == 'e') out.pop_back();
  return out;
}

bool Language::silent(const std::string& word) const {
  return fillers.count(word) + breaks.count(word) + joins.count(word) > 0;
}

bool Language::denies(const std::string& stem_) const { return stem_ == kNot; }
bool Language::telling(const std::string& stem_) const {
  return !denies(stem_) && !denies_after(stem_) && general.count(stem_) == 0;
}

bool Language::denies_after(const std::string& stem_) const { return stem_ == kGone; }

std::vector<Token> Language::words_of(std::string_view text,
                                      std::vector<std::string>& words) const {
  std::vector<Token> tokens;
  Gap gap = Gap::none;
  std::string word;
  const auto end_word = [&] {
    if (word.find_first_not_of('\'') != std::string::npos) {
      tokens.push_back({stem(word), {words.size()}, gap});
      words.push_back(word);
      gap = Gap::none;
    }
    word.clear();
  };
  for (const char c : plain(text)) {
    if (letter(c)) {
      word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
      continue;
    }
    end_word();
    gap = std::max(gap, gap_of(c));
  }
  end_word();
  return tokens;
}

/// How many tokens from `begin` on make the longest phrase of a group; its first stands for it.
std::size_t Language::group_at(const std::vector<Token>& words, std::size_t begin,
                               std::string& stem_) const {
  std::size_t longest = 0;
  for (const auto& group : same) {
    for (const std::vector<std::string>& phrase : group) {
      if (phrase.size() <= longest || begin + phrase.size() > words.size()) continue;
      bool alike = true;
      for (std::size_t i = 0; alike && i < phrase.size(); ++i) {
        const Token& word = words[begin + i];
        alike = word.stem == phrase[i] && (i == 0 || word.gap == Gap::none);
      }
      if (!alike) continue;
      longest = phrase.size();
      stem_ = group.front().front();
      for (std::size_t i = 1; i < group.front().size(); ++i) stem_ += " " + group.front()[i];
    }
  }
  return longest;
}

std::vector<Token> Language::grouped(const std::vector<Token>& words) const {
  std::vector<Token> tokens;
  for (std::size_t i = 0; i < words.size();) {
    Token token = words[i];
    const std::size_t length = std::max<std::size_t>(group_at(words, i, token.stem), 1);
    for (std::size_t k = 1; k < length; ++k) {
      token.words.push_back(words[i + k].words.front());
    }
    tokens.push_back(token);
    i += length;
  }
  return tokens;
}

/// Marks where a new statement begins, then leaves out what says nothing.
std::vector<Token> Language::without_silent(const std::vector<Token>& all,
                                            const std::vector<std::string>& words) const {
  std::vector<Token> out;
  Gap gap = Gap::none;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const bool joined = all[i].gap == Gap::weak || (i > 0 && joins.count(words[i - 1]) > 0);
    const bool begins = breaks.count(words[i]) > 0 || (joined && subjects.count(words[i]) > 0);
    gap = std::max(gap, begins ? Gap::strong : all[i].gap);
    if (silent(words[i])) continue;
    out.push_back(all[i]);
    out.back().gap = gap;
    gap = Gap::none;
  }
  return out;
}

Reading Language::read(std::string_view text) const {
  Reading reading;
  const std::vector<Token> all = words_of(text, reading.words);
  reading.tokens = grouped(without_silent(all, reading.words));
  return reading;
}

std::vector<std::string> Language::stems_of(std::string_view phrase) const {
  std::vector<std::string> stems;
  for (const Token& token : read(phrase).tokens) stems.push_back(token.stem);
  return stems;
}

}  // namespace tickover::triage
