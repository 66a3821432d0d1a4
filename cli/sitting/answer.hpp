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

/// Where options begin; what stands before them is the answer itself.
std::vector<std::string>::const_iterator first_option(const std::vector<std::string>& typed);
/// "pilot jet" of two words.
std::string one_text(const std::vector<std::string>& words);
/// "1,3 5" as three words.
std::vector<std::string> parted(const std::vector<std::string>& typed);

/// The choice that `word` names: by its number, in full, or by at least two letters with which no
/// other begins; y and n stand for yes and no, no and none for one another. No other word is begun
/// by no. Otherwise `word` as it is.
std::string chosen_word(const std::vector<Choice>& choices, const std::string& word);

/// The words of a command line, JOB included, that records `typed` (not empty) as the answer to a
/// task: "record bike.job port-count --cyl 2 open". Throws InputError (usage) where that cannot be
/// told.
std::vector<std::string> recording(const std::string& job, const Model& model, const Task& task,
                                   const std::vector<Choice>& choices,
                                   std::vector<std::string> typed);

}  // namespace tickover::cli
