/// @file
/// The causes that a mechanic names when a job is finished.
#pragma once

#include <string>
#include <vector>

#include "engine/evidence/evidence.hpp"

namespace tickover {

/// The cause instances that the finish `entry` names, ascending, each once. A cause that belongs to
/// cylinders and is named without one is meant where it is alone, else where it was repaired.
/// Throws InputError (usage) for a cause that the pack or the machine does not have, for cylinders
/// where none belong, and, when `is_new`, for one that may be meant at several places.
std::vector<std::size_t> causes_confirmed(const Model& model, const Evidence& evidence,
                                          const Entry& entry, bool is_new);

/// Something was done to remove the cause instance.
bool repaired(const Evidence& evidence, std::size_t cause);

/// How `instance` is typed: "pilot-jet-blocked@3", without the number where there is no other.
std::string cause_word(const Model& model, std::size_t instance);

}  // namespace tickover
