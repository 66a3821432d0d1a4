/// @file
/// Guided work: long texts a screen at a time, so that cautions are read before they have gone by.
#pragma once

#include <string>
#include <vector>

namespace tickover::cli {

/// `text` cut into parts of at most `rows` lines each, which together are `text`; at an empty line
/// where the second half of a screen has one. `rows` is at least 1.
std::vector<std::string> screens(const std::string& text, std::size_t rows);

}  // namespace tickover::cli
