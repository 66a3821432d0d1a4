/// @file
/// Running a command line of the shell in a test.
#pragma once

#include <string>

namespace tickover::test {

struct ShellResult {
  int status = 0;
  std::string out;  ///< standard output; redirect with 2>&1 for the rest
};

ShellResult run_shell(const std::string& command);

/// The path of a new empty folder.
std::string fresh_folder();

}  // namespace tickover::test
