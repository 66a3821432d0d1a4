/// @file
/// Guided work: how a task is told and asked for.
#pragma once

#include <string>
#include <vector>

#include "cli/sitting/task.hpp"

namespace tickover::cli {

/// One of the answers a task takes, known by its number, by its word or by the beginning of it.
struct Choice {
  std::string word;
  std::string text;
};

/// What it is, why, how long, cautions, tools and steps: said once, when the task comes up.
std::string task_in_words(const Session& session, const Plan& plan);
/// The question alone, with its choices: said before every prompt.
std::string question_in_words(const Session& session, const Plan& plan);
/// In the order of their numbers.
std::vector<Choice> choices_of(const Session& session, const Plan& plan);

}  // namespace tickover::cli
