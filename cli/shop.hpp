/// @file
/// The shop: its file, and what cannot be done here and now, as options.
#pragma once

#include <vector>

#include "cli/command.hpp"
#include "engine/plan/shop.hpp"

namespace tickover::cli {

std::vector<Option> shop_options();

/// The shop of --shop with what the other options add. Throws InputError: for a file that cannot be
/// read or breaks shop.schema.json, for names that the pack does not know (checked()), for a time
/// that is none.
plan::Shop shop_from(const World& world, const Words& words, const pack::Pack& pack);

/// `constraints` when every name in it is known to the pack: ids in full; a tool or part by any
/// words that some entry holds. Throws InputError (`fault`, at `place`) naming the nearest known.
plan::Constraints checked(plan::Constraints constraints, const pack::Pack& pack,
                          InputFault fault = InputFault::usage, const std::string& place = "");

}  // namespace tickover::cli
