/// @file
/// What a shell sources so that it completes command lines of this program.
#pragma once

#include <string>
#include <vector>

namespace tickover::cli {

const std::vector<std::string>& known_shells();

/// The script for one of them. It asks 'tickover complete' and knows no command itself.
std::string completion_script(const std::string& shell);

}  // namespace tickover::cli
