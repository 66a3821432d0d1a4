/// @file
/// Why not something else: `next --against`.
#pragma once

#include <string>

#include "engine/diagnosis.hpp"

namespace tickover::cli {

/// What is asked about: a check, a question to the rider, or a repair.
struct Rival {
  plan::ActionKind kind = plan::ActionKind::check;  ///< check, ask, or course: a repair
  std::vector<std::size_t> indices;  ///< pack.checks that obtain it, pack.findings, pack.repairs

  bool is(const plan::Proposal& proposal) const;
};

/// `id` names a check, a symptom to ask for, what a check obtains, or a repair. Throws InputError
/// (usage): for a name that is none of them, with the nearest known, and for what the machine
/// lacks.
Rival rival_named(const Model& model, const std::string& id);

/// Why it does not come first, or cannot be done at all. `advice` was told that it is asked about.
std::string against_in_words(const Diagnosis& job, const plan::Shop& shop,
                             const plan::Advice& advice, const Rival& rival);

}  // namespace tickover::cli
