#include "engine/triage/phrases.hpp"

#include <algorithm>

namespace tickover::triage {
namespace {

using Stems = std::vector<std::string>;

Stems sorted(Stems stems) {
  std::sort(stems.begin(), stems.end());
  return stems;
}

/// Gathers phrases, those of the same words as one.
class Gathering {
 public:
  Gathering(const pack::Pack& pack, const Language& language,
            const std::vector<std::size_t>& symptoms)
      : pack_(pack), language_(language), symptoms_(symptoms) {}

  void add(const std::string& say, const std::vector<std::size_t>& means) {
    Phrase phrase{language_.stems_of(say), {}, {}, true};
    for (const std::size_t symptom : means) {
      const bool there = std::count(symptoms_.begin(), symptoms_.end(), symptom) > 0;
      if (there) phrase.means.push_back(symptom);
    }
    if (phrase.means.empty() || phrase.stems.empty()) return;
    take(phrase);
    for (const ConditionWords& words : language_.conditions) {
      if (!all_mean(phrase, words)) continue;
      for (const Stems& told : words.say) take_without(phrase, words.condition, told);
    }
  }

  std::vector<Phrase> phrases;

 private:
  bool telling(const Stems& stems) const {
    return std::any_of(stems.begin(), stems.end(),
                       [&](const std::string& stem) { return language_.telling(stem); });
  }

  bool all_mean(const Phrase& phrase, const ConditionWords& words) const {
    return std::all_of(phrase.means.begin(), phrase.means.end(), [&](std::size_t symptom) {
      return value_of(pack_.findings[symptom].when, words.condition) == words.value;
    });
  }

  void take_without(Phrase phrase, const std::string& condition, const Stems& told) {
    const Stems all = sorted(phrase.stems), less = sorted(told);
    if (!std::includes(all.begin(), all.end(), less.begin(), less.end())) return;
    std::erase_if(phrase.stems, [&](const std::string& stem) {
      return std::binary_search(less.begin(), less.end(), stem);
    });
    phrase.lacking = {condition};
    phrase.whole = false;
    take(phrase);
  }

  void take(const Phrase& phrase) {
    if (!phrase.whole && !telling(phrase.stems)) return;
    const auto known = std::find_if(phrases.begin(), phrases.end(), [&](const Phrase& one) {
      return sorted(one.stems) == sorted(phrase.stems);
    });
    if (known == phrases.end()) return phrases.push_back(phrase);
    for (const std::size_t symptom : phrase.means) {
      const bool there = std::count(known->means.begin(), known->means.end(), symptom) > 0;
      if (!there) known->means.push_back(symptom);
    }
    known->lacking.insert(phrase.lacking.begin(), phrase.lacking.end());
    known->whole = known->whole || phrase.whole;
  }

  const pack::Pack& pack_;
  const Language& language_;
  const std::vector<std::size_t>& symptoms_;
};

}  // namespace

const std::string& value_of(const pack::Conditions& when, const std::string& condition) {
  if (condition == "throttle") return when.throttle;
  return condition == "engine" ? when.engine : when.load;
}

std::vector<Phrase> phrases_of(const pack::Pack& pack, const Language& language,
                               const std::vector<std::size_t>& symptoms) {
  Gathering gathering(pack, language, symptoms);
  for (const pack::Words& words : pack.words) gathering.add(words.say, words.means);
  for (const std::size_t symptom : symptoms) gathering.add(pack.findings[symptom].name, {symptom});
  return std::move(gathering.phrases);
}

}  // namespace tickover::triage
