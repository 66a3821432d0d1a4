/// @file
/// Guided work on a job that does not exist yet: asks for what its first line holds.
#pragma once

#include <string>

#include "cli/command.hpp"

namespace tickover::cli {

/// Asks for machine, what is known of it, and the rider's words, and opens the job. False when it
/// was left before the last answer: then no file is written. Throws InputError.
bool ask_and_open(World& world, const std::string& path);

}  // namespace tickover::cli
