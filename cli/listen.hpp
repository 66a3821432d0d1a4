/// @file
/// Listening to a rider with the pack's words.
#pragma once

#include "cli/command.hpp"
#include "engine/machine/model.hpp"
#include "engine/triage/triage.hpp"

namespace tickover::cli {

/// What the words may mean among the symptoms that this machine can show.
triage::Triage listen(const World& world, const Model& model, const std::string& words);

}  // namespace tickover::cli
