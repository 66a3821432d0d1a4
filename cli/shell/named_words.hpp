/// @file
/// The words that an option or argument may be, by what it names.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/shell/completion.hpp"

namespace tickover::cli {

/// What stands on the line already and narrows the choice.
struct LineSoFar {
  std::string job;   ///< the job file, where one is named
  std::string what;  ///< the observable, where one is named
};

Completion words_named(World& world, Names names, const LineSoFar& line);

}  // namespace tickover::cli
