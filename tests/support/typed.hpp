/// @file
/// A command in this process, and what is typed at its prompts.
#pragma once

#include <string>
#include <vector>

namespace tickover::test {

/// What the command tells a terminal, on the shipped knowledge; it must succeed.
std::string told(const std::vector<std::string>& words, const std::string& typed = "");

}  // namespace tickover::test
