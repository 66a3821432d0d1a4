/// @file
/// Naming what it was when a job is closed.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis.hpp"

namespace tickover::cli {

/// Causes that were probably there as found, most probable first: what a mechanic may confirm.
std::vector<std::size_t> confirmable(const Diagnosis& job);

/// "tickover finish bike.job --cause pilot-jet-blocked@3": with what was repaired of the
/// confirmable, or all of these; "--cause ..." where there are none.
std::string finish_line(const Diagnosis& job, const std::string& path);

/// What the road test has left to do.
std::string gone_in_words(const Diagnosis& job, const std::string& path);

/// A finished job: whether the complaint was found gone, and whether a cause was named.
std::string finished_in_words(const Diagnosis& job, const Journal& journal,
                              const std::string& path);

}  // namespace tickover::cli
