/// @file
/// What the program says of its commands.
#pragma once

#include <string>

#include "cli/command.hpp"

namespace tickover::cli {

/// "tickover record JOB WHAT VALUE... [options]".
std::string usage_line(const Command& command);
std::string help_of(const Command& command);
/// What the program is for.
std::string description();
/// All commands, a line each.
std::string overview();

}  // namespace tickover::cli
