/// @file
/// What a road test cannot have found. Inside evidence only.
#pragma once

#include "engine/evidence/evidence.hpp"

namespace tickover {

/// `evidence` is as before `entry`, a verification. A symptom told and now not found any more,
/// nothing having been done, would count as never told; nor is cured what the road test before
/// still had. Throws InputError (usage) where nothing was repaired yet, or since that test.
void require_repair_before_gone(const Evidence& evidence, const Entry& entry);

}  // namespace tickover
