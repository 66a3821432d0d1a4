/// @file
/// What can stand next on a command line, by the table of options alone: what a shell offers.
#pragma once

#include <string>
#include <vector>

#include "cli/command.hpp"

namespace tickover::cli {

/// A word that may stand there, and what it is.
struct Candidate {
  std::string word, help;
};

/// Where the shell's own names of files or folders may stand.
enum class Paths { none, files, folders };

struct Completion {
  std::vector<Candidate> candidates;
  Paths paths = Paths::none;
};

/// `words` are those after the program's name; the last, perhaps empty, is still being written.
/// What depends on a job (what its machine has, its entries) is read from the job that the line
/// names, where there is one.
Completion complete(World& world, std::vector<std::string> words);

}  // namespace tickover::cli
