/// @file
/// The manual page, made from the table of commands.
#pragma once

#include <string>

namespace tickover::cli {

/// The page in man(7) format. `version` is the program's.
std::string manual_page(const std::string& version);

}  // namespace tickover::cli
