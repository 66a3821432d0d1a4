/// @file
/// Running the real program, with a hand on what the system gives it.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace tickover::test {

struct ProgramRun {
  std::vector<std::string> words;  ///< after the program's name
  std::string folder;              ///< where it runs
  std::string knowledge = "knowledge";
  std::vector<std::string> environment = {};               ///< "NAME=value", beside the usual
  std::optional<std::size_t> largest_file = std::nullopt;  ///< writing beyond that fails
  std::string out_to = {};                                 ///< standard output goes to this file
  bool out_closed = false;                                 ///< no standard output at all
};

struct ProgramResult {
  int status = 0;  ///< 128 and the signal when one ended it
  std::string out, err;
  std::size_t peak_kib = 0;  ///< the most memory it had in use
};

ProgramResult run_program(const ProgramRun& run);

/// Runs `words` in `folder`; the common case.
ProgramResult run_in(const std::string& folder, const std::vector<std::string>& words);

/// "record bike.job hunts 'very much'" as words: blanks part them, quotes keep them together.
std::vector<std::string> words_of_line(const std::string& line);

}  // namespace tickover::test
