/// @file
/// Guided work: what a hand names at a prompt, by its id or by words of its name.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/machine/model.hpp"

namespace tickover::cli {

/// The id of a check, a symptom or a repair of this machine. A finding that a check makes stands
/// for that check: only checks have cautions and steps. Throws InputError (usage) when `words` name
/// none, or several.
std::string work_named(const Model& model, const std::string& words);
/// The id of a layer of this machine, as above.
std::string layer_named(const Model& model, const std::string& words);
/// The id of a cause, as above; "id@3" is left to the command that takes it.
std::string cause_named(const Model& model, const std::string& words);

}  // namespace tickover::cli
