/// @file
/// The job before, of a machine that came back.
#pragma once

#include <string>
#include <vector>

#include "cli/session.hpp"
#include "engine/trail/trail.hpp"

namespace tickover::cli {

/// Reads the finished job `path`. Throws InputError where there is none, or it is not finished.
Session read_earlier(World& world, const std::string& path);

/// What was complained of, found, done and left then, and what to make of it now: `model` is that
/// of the new job, with its risks.
std::string earlier_in_words(const Model& model, const Earlier& earlier,
                             const std::vector<Standing>& left_then);

/// How a finished job is gone on with.
std::string how_to_go_on(const std::string& path);

}  // namespace tickover::cli
