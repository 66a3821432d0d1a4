/// @file
/// What is listened for. Inside triage only.
#pragma once

#include <set>

#include "engine/pack/pack.hpp"
#include "engine/triage/language.hpp"

namespace tickover::triage {

/// Words that mean symptoms.
struct Phrase {
  std::vector<std::string> stems;
  std::vector<std::size_t> means;  ///< indices into Pack::findings
  std::set<std::string> lacking;   ///< conditions that it leaves open
  bool whole = false;              ///< a phrase of the pack, nothing left out
};

/// The condition's value in a symptom: "any" when it does not matter.
const std::string& value_of(const pack::Conditions& when, const std::string& condition);

/// The pack's phrases and the names of `symptoms`. Where a phrase names its symptoms' condition
/// ("hunts at idle"), what is left without it ("hunts") is listened for too: riders leave the
/// condition out, and then it is asked for. Phrases of the same words are one.
std::vector<Phrase> phrases_of(const pack::Pack& pack, const Language& language,
                               const std::vector<std::size_t>& symptoms);

}  // namespace tickover::triage
