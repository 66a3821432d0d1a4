/// @file
/// Which members an entry must and may have: what the schema, which knows one kind of line only,
/// cannot say.
#pragma once

#include <string>

#include "engine/job/journal.hpp"

namespace tickover {

/// Throws InputError (data) when `entry` lacks a member of its event or has one that says nothing
/// there. `place` names the line.
void check_entry_members(const Entry& entry, const std::string& place);

}  // namespace tickover
