/// @file
/// What can be typed at every prompt of guided work.
#pragma once

#include <string>
#include <vector>

namespace tickover::cli {

/// "back", "skip" ...: no answer of a pack may be one of them.
std::vector<std::string> words_at_every_prompt();
/// What an answer may be, and each of those words with its meaning.
std::string help_at_prompt();

}  // namespace tickover::cli
