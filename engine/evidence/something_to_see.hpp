/// @file
/// Whether there is anything to see yet of what is recorded.
#pragma once

#include "engine/evidence/evidence.hpp"

namespace tickover {

/// Throws InputError (usage) where `entry` records finding `index` at a place at which its trace
/// was taken away (cleared), or of which the engine has not run since the repair (not_run_since),
/// unless the entry is confirmed.
void require_something_to_see(const Model& model, const Evidence& evidence, const Entry& entry,
                              std::size_t index, Place place);

/// Where `entry` records a look at a part that was repaired since the engine last ran, as any entry
/// says, the number of the entry that repaired it: the old part may have been looked at.
std::optional<std::size_t> repair_before_look(const Model& model, const Evidence& evidence,
                                              const Entry& entry);

}  // namespace tickover
