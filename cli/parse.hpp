/// @file
/// From the words of a command line to what the command's table says they are.
#pragma once

#include "cli/command.hpp"

namespace tickover::cli {

/// `line` are the words after the command's name. Throws InputError (usage) for what the command
/// does not take, with the nearest option it does.
Words parse(const Command& command, const std::vector<std::string>& line);

}  // namespace tickover::cli
