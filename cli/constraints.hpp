/// @file
/// What cannot be done here and now, as options.
#pragma once

#include <vector>

#include "cli/option.hpp"
#include "cli/words.hpp"
#include "engine/plan/constraints.hpp"

namespace tickover::cli {

std::vector<Option> constraint_options();

/// What those options say; throws InputError (usage) as checked() and for a time that is none.
plan::Constraints constraints_from(const Words& words, const pack::Pack& pack);

/// `constraints` when every name in it is known to the pack: ids in full; a tool or part by any
/// words that some entry holds. Throws InputError (usage) naming the nearest known one.
plan::Constraints checked(plan::Constraints constraints, const pack::Pack& pack);

}  // namespace tickover::cli
