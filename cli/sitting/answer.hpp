/// @file
/// Guided work: from what was typed at a prompt to the command that records it.
#pragma once

#include <string>
#include <vector>

#include "cli/sitting/task_text.hpp"

namespace tickover::cli {

/// Parts a line at blanks; what stands between double quotes stays together, as does all after a
/// quote that is not closed.
std::vector<std::string> words_of(const std::string& line);

/// The choice that `word` names: by its number, in full, or by at least two letters with which no
/// other begins. Otherwise `word` as it is.
std::string chosen_word(const std::vector<Choice>& choices, const std::string& word);

/// The words of a command line, JOB included, that records `typed` (not empty) as the answer to a
/// task: "record bike.job port-count --cyl 2 open". Throws InputError (usage) where that cannot be
/// told.
std::vector<std::string> recording(const std::string& job, const Model& model, const Task& task,
                                   const std::vector<Choice>& choices,
                                   std::vector<std::string> typed);

}  // namespace tickover::cli
