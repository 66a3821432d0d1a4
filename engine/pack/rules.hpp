/// @file
/// What a schema cannot say of a pack. Each rule throws InputError (data) at its place.
#pragma once

#include "engine/pack/pack.hpp"
#include "engine/pack/reader.hpp"

namespace tickover::pack {

/// A finding must have the members of its kind and none of another kind's.
void check_members(const Node& finding, Kind kind);

/// All rules over a built pack; `folder` stands before file names in errors.
void check_rules(const Pack& pack, const std::string& folder);

}  // namespace tickover::pack
