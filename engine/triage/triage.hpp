/// @file
/// From a rider's sentence to symptoms that may be meant. Plain matching by the pack's words: it
/// proposes, somebody has to confirm.
///
/// Example:
///   Triage heard = triage(pack, language, "hangs up after a blip", symptoms_of_the_machine);
#pragma once

#include "engine/pack/pack.hpp"
#include "engine/triage/language.hpp"

namespace tickover::triage {

/// How a symptom was spoken of: as there, as not there, or with a denial nearby that may or may not
/// be meant for it.
enum class Standing { said, unclear, denied };
std::string_view name_of(Standing standing);

/// A symptom that may be meant.
struct Heard {
  std::size_t finding = 0;  ///< index into Pack::findings
  Standing standing = Standing::said;
  std::vector<std::string> phrases;  ///< the rider's own words for it, as matched
};

/// Symptoms that the same words may mean, and that differ in a condition which was not told.
struct Missing {
  std::size_t question = 0;                                  ///< index into Language::questions
  std::vector<std::pair<std::string, std::size_t>> options;  ///< value of the condition, finding
};

struct Triage {
  std::vector<Heard> heard;  ///< said first, then unclear, then denied; each in the text's order
  std::vector<Missing> missing;
  std::vector<std::string> not_understood;  ///< words that no match used, none twice
};

/// `symptoms` are those in question (indices into Pack::findings). A phrase of the pack is heard
/// where all its words stand in one sentence, in any order, with few others between them; where a
/// longer phrase holds the same words, that alone. A denial before it, not cut off by a break,
/// turns it round; a phrase that holds a denial itself needs it. Of several symptoms one phrase may
/// mean, those whose conditions the sentence contradicts are left out when others remain.
Triage triage(const pack::Pack& pack, const Language& language, std::string_view text,
              const std::vector<std::size_t>& symptoms);

}  // namespace tickover::triage
