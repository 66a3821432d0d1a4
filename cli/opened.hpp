/// @file
/// Starting a job file, by the command or at the prompts of guided work.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/session.hpp"
#include "engine/trail/trail.hpp"

namespace tickover::cli {

struct Opened {
  std::string path;
  Model model;
  std::vector<std::string> symptoms;    ///< ids that the rider's words may mean
  std::optional<Earlier> earlier = {};  ///< where the machine came back
  std::vector<Standing> left_then;      ///< what that job left most probable
};

/// Writes the job file named by JOB, with --machine, --risk, --complaint, --after and --by. Throws
/// InputError, and then has written nothing.
Opened open_job(World& world, const Words& words);

/// What was opened, and what comes before anything that this program says.
std::string opened_in_words(const Opened& opened);

}  // namespace tickover::cli
