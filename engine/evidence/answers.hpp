/// @file
/// The answers that a finding takes, and the words for them.
#pragma once

#include <string>
#include <vector>

#include "engine/machine/model.hpp"

namespace tickover {

/// The index of the level or outcome that `word` names. Level 0 is also "no", and the only level
/// above it also "yes"; letter case is nobody's business. Throws InputError (usage) with what may
/// be answered; for a measurement also what the sheet of `machine` says of its like.
std::size_t answer_named(const Machine& machine, const pack::Finding& finding,
                         const std::string& word);

/// What may be typed: "none, slight or clear, or unsure"; of a reading "a value in mm, such as 17.5
/// mm, or unsure", with the wanted value of `machine`.
std::string answers_in_words(const Machine& machine, const pack::Finding& finding);

/// The finding that `word` names: the id of a finding, or of a check that obtains one. Throws
/// InputError (usage) with the nearest name.
std::size_t finding_named(const Model& model, const std::string& word);

}  // namespace tickover
