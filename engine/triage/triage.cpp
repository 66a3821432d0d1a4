#include "engine/triage/triage.hpp"

#include <algorithm>

#include "engine/triage/phrases.hpp"

namespace tickover::triage {
namespace {

/// A phrase of the pack found in the text.
struct Match {
  Phrase phrase;
  std::vector<std::size_t> tokens;  ///< where its words stand, ascending
  Standing standing = Standing::said;
  bool elsewhere = true;  ///< what other clauses tell by themselves is a condition of it too
};

using Stems = std::vector<std::string>;

class Ear {
 public:
  Ear(const pack::Pack& pack, const Language& language, std::string_view text,
      const std::vector<std::size_t>& symptoms)
      : pack_(pack), language_(language), symptoms_(symptoms), text_(language.read(text)) {
    used_.resize(text_.words.size());
  }

  Triage listen() {
    find_sentences();
    hear_conditions();
    for (const Phrase& phrase : phrases_of(pack_, language_, symptoms_)) hear(phrase);
    drop_parts_of_others();
    for (Match& match : matches_) judge(match);
    return result();
  }

 private:
  const std::vector<Token>& tokens() const { return text_.tokens; }

  void find_sentences() {
    for (std::size_t i = 0; i < tokens().size(); ++i) {
      begin_.push_back(i == 0 || tokens()[i].gap == Gap::strong ? i : begin_.back());
    }
    end_ = begin_;
    std::size_t end = tokens().size();
    for (std::size_t i = tokens().size(); i-- > 0;) {
      end_[i] = end;
      if (begin_[i] == i) end = i;
    }
  }

  void use(std::size_t token) {
    for (const std::size_t word : tokens()[token].words) used_[word] = true;
  }

  /// The nearest places from `first` on where all `wanted` stand in one sentence with no more than
  /// `slack` other tokens among them; empty without such. A denial among them must come before what
  /// it comes before in `wanted`: "no idle" is not heard in "the idle is fine, no popping".
  std::vector<std::size_t> find(const Stems& wanted, std::size_t first, std::size_t slack) const {
    std::vector<std::size_t> at;
    std::vector<bool> found(wanted.size());
    std::size_t others = 0;
    for (std::size_t i = first; i < end_[first] && others <= slack; ++i) {
      std::size_t k = 0;
      while (k < wanted.size() && (found[k] || wanted[k] != tokens()[i].stem)) ++k;
      if (k < wanted.size() && language_.denies(wanted[k]) &&
          std::find(found.begin() + static_cast<std::ptrdiff_t>(k), found.end(), true) !=
              found.end()) {
        k = wanted.size();
      }
      if (k < wanted.size()) {
        found[k] = true;
        at.push_back(i);
        if (at.size() == wanted.size()) return at;
      } else if (i == first) {
        return {};
      } else {
        ++others;
      }
    }
    return {};
  }

  /// Wherever the phrase stands; of places that share words the closest, then the first.
  void hear(const Phrase& phrase) {
    std::vector<std::vector<std::size_t>> places;
    for (std::size_t i = 0; i < tokens().size(); ++i) {
      const std::vector<std::size_t> at = find(phrase.stems, i, language_.slack);
      if (!at.empty()) places.push_back(at);
    }
    std::stable_sort(places.begin(), places.end(), [](const auto& a, const auto& b) {
      return a.back() - a.front() < b.back() - b.front();
    });
    std::set<std::size_t> taken;
    for (const std::vector<std::size_t>& at : places) {
      const bool free = std::none_of(at.begin(), at.end(),
                                     [&](std::size_t token) { return taken.count(token) > 0; });
      if (!free) continue;
      taken.insert(at.begin(), at.end());
      matches_.push_back({phrase, at});
    }
  }

  /// Words that a longer phrase took are not a shorter one's.
  void drop_parts_of_others() {
    const std::vector<Match> all = matches_;
    std::erase_if(matches_, [&](const Match& match) {
      return std::any_of(all.begin(), all.end(), [&](const Match& other) {
        return other.tokens.size() > match.tokens.size() &&
               std::includes(other.tokens.begin(), other.tokens.end(), match.tokens.begin(),
                             match.tokens.end());
      });
    });
  }

  void hear_conditions() {
    for (const ConditionWords& words : language_.conditions) {
      for (const Stems& say : words.say) {
        for (std::size_t i = 0; i < tokens().size(); ++i) {
          const std::vector<std::size_t> at = find(say, i, 0);
          if (!at.empty()) told_.push_back({&words, begin_[i], at});
          for (const std::size_t token : at) use(token);
        }
      }
    }
  }

  /// Denials that belong to a phrase ("will not rev out") turn nothing else round.
  bool taken(std::size_t token) const {
    return std::any_of(matches_.begin(), matches_.end(), [&](const Match& match) {
      return std::binary_search(match.tokens.begin(), match.tokens.end(), token);
    });
  }

  void deny(Match& match, std::size_t by, Standing standing) {
    use(by);
    match.standing = std::max(match.standing, standing);
  }

  /// How a denial before, within or after the match bears on it.
  void judge(Match& match) {
    for (const std::size_t token : match.tokens) use(token);
    const std::size_t first = match.tokens.front(), last = match.tokens.back();
    bool comma = false;
    for (std::size_t i = last + 1; i-- > begin_[first] && i + 2 * language_.reach >= first;) {
      const bool near = !comma && i + language_.reach >= first;
      if (language_.denies(tokens()[i].stem) && !taken(i)) {
        deny(match, i, near ? Standing::denied : Standing::unclear);
      }
      comma = comma || (i <= first && tokens()[i].gap == Gap::weak);
    }
    for (std::size_t i = first; i < end_[first] && i <= last + language_.reach; ++i) {
      const bool gone = language_.denies_after(tokens()[i].stem) && !taken(i);
      if (gone) deny(match, i, Standing::denied);
    }
  }

  struct Told {
    const ConditionWords* words;
    std::size_t sentence;  ///< its first token
    std::vector<std::size_t> tokens;
  };

  /// The values of a condition that the sentence tells beside the match: words of the pack's own
  /// phrase ("hanging idle") do not speak against what it means.
  std::set<std::string> told(const std::string& condition, const Match& match) const {
    std::set<std::string> values;
    for (const Told& one : told_) {
      const bool here = one.sentence == begin_[match.tokens.front()] &&
                        (match.elsewhere || !by_itself(one, match));
      const bool own = std::includes(match.tokens.begin(), match.tokens.end(), one.tokens.begin(),
                                     one.tokens.end());
      if (here && !own && one.words->condition == condition) values.insert(one.words->value);
    }
    return values;
  }

  /// The condition is told in a clause that says something else of it ("the idle is fine, ...").
  bool by_itself(const Told& told, const Match& match) const {
    const std::size_t at = told.tokens.front(), sentence = begin_[at];
    std::size_t first = at, last = told.tokens.back() + 1;
    while (first > sentence && tokens()[first].gap == Gap::none) --first;
    while (last < end_[at] && tokens()[last].gap == Gap::none) ++last;
    if (match.tokens.front() >= first && match.tokens.front() < last) return false;
    for (std::size_t i = first; i < last; ++i) {
      const bool own = std::binary_search(told.tokens.begin(), told.tokens.end(), i);
      if (!own && language_.telling(tokens()[i].stem)) return true;
    }
    return false;
  }

  /// False when the sentence tells other values of a condition than the symptom's.
  bool fits(std::size_t symptom, const Match& match) const {
    for (const ConditionQuestion& question : language_.questions) {
      const std::string& value = value_of(pack_.findings[symptom].when, question.condition);
      const std::set<std::string> values = told(question.condition, match);
      if (value != "any" && !values.empty() && values.count(value) == 0) return false;
    }
    return true;
  }

  std::string phrase_of(const Match& match) const {
    std::string out;
    const std::size_t begin = tokens()[match.tokens.front()].words.front();
    const std::size_t end = tokens()[match.tokens.back()].words.back();
    for (std::size_t word = begin; word <= end; ++word) {
      out += (out.empty() ? "" : " ") + text_.words[word];
    }
    return out;
  }

  static void add(std::vector<Heard>& list, std::size_t symptom, Standing standing,
                  const std::string& phrase) {
    auto known = std::find_if(list.begin(), list.end(),
                              [&](const Heard& one) { return one.finding == symptom; });
    if (known == list.end()) known = list.insert(list.end(), {symptom, standing, {}});
    known->standing = std::min(known->standing, standing);
    std::vector<std::string>& phrases = known->phrases;
    if (std::find(phrases.begin(), phrases.end(), phrase) == phrases.end()) {
      phrases.push_back(phrase);
    }
  }

  /// Where nothing fits, the pack's own phrase counts all the same; one made shorter does where
  /// what it does not fit is told by itself.
  void keep_fitting(Match& match) const {
    std::vector<std::size_t> fitting;
    for (const bool elsewhere : {true, false}) {
      match.elsewhere = elsewhere;
      for (const std::size_t symptom : match.phrase.means) {
        if (fits(symptom, match)) fitting.push_back(symptom);
      }
      if (!fitting.empty() || match.phrase.whole) break;
    }
    if (!fitting.empty() || !match.phrase.whole) match.phrase.means = fitting;
  }

  Triage result() {
    Triage out;
    std::stable_sort(matches_.begin(), matches_.end(), [](const Match& a, const Match& b) {
      return a.tokens.front() < b.tokens.front();
    });
    for (Match& match : matches_) {
      keep_fitting(match);
      for (const std::size_t symptom : match.phrase.means) {
        add(out.heard, symptom, match.standing, phrase_of(match));
      }
      if (match.standing != Standing::denied) add_missing(match, out.missing);
    }
    std::stable_sort(out.heard.begin(), out.heard.end(),
                     [](const Heard& a, const Heard& b) { return a.standing < b.standing; });
    drop_idle_conditions();
    out.not_understood = not_understood();
    return out;
  }

  /// Conditions in which the symptoms of a match differ, or that its words leave open, when none of
  /// their values was told.
  void add_missing(const Match& match, std::vector<Missing>& missing) const {
    for (std::size_t q = 0; q < language_.questions.size(); ++q) {
      const std::string& condition = language_.questions[q].condition;
      Missing one{q, {}};
      std::set<std::string> values;
      for (const std::size_t symptom : match.phrase.means) {
        one.options.emplace_back(value_of(pack_.findings[symptom].when, condition), symptom);
        values.insert(one.options.back().first);
      }
      const bool differ = values.size() > 1 && values.count("any") == 0;
      const bool open = match.phrase.lacking.count(condition) > 0 && !match.phrase.whole;
      if ((!differ && !open) || values.empty() || !told(condition, match).empty()) continue;
      const bool known = std::any_of(missing.begin(), missing.end(), [&](const Missing& other) {
        return other.question == q && other.options == one.options;
      });
      if (!known) missing.push_back(one);
      if (values.size() == one.options.size()) return;  // the answer leaves one of them
    }
  }

  /// "off idle" says where, but not what, in a sentence in which nothing was heard.
  void drop_idle_conditions() {
    for (const Told& one : told_) {
      const bool heard = std::any_of(matches_.begin(), matches_.end(), [&](const Match& match) {
        return begin_[match.tokens.front()] == one.sentence;
      });
      if (heard) continue;
      for (const std::size_t token : one.tokens) {
        for (const std::size_t word : tokens()[token].words) used_[word] = false;
      }
    }
  }

  std::vector<std::string> not_understood() const {
    std::vector<std::string> out;
    std::set<std::string> told;
    for (const Token& token : tokens()) {
      for (const std::size_t word : token.words) {
        if (!used_[word] && told.insert(text_.words[word]).second) out.push_back(text_.words[word]);
      }
    }
    return out;
  }

  const pack::Pack& pack_;
  const Language& language_;
  const std::vector<std::size_t>& symptoms_;
  const Reading text_;
  std::vector<std::size_t> begin_, end_;  ///< per token, of its sentence
  std::vector<bool> used_;
  std::vector<Match> matches_;
  std::vector<Told> told_;
};

}  // namespace

std::string_view name_of(Standing standing) {
  switch (standing) {
    case Standing::said:
      return "said";
    case Standing::unclear:
      return "unclear";
    case Standing::denied:
      return "denied";
  }
  return {};
}

Triage triage(const pack::Pack& pack, const Language& language, std::string_view text,
              const std::vector<std::size_t>& symptoms) {
  return Ear(pack, language, text, symptoms).listen();
}

}  // namespace tickover::triage
