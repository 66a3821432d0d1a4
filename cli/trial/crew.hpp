/// @file
/// Jobs of a trial on several threads, handed out in order.
#pragma once

#include <functional>
#include <vector>

#include "engine/trial/play.hpp"

namespace tickover::cli {

/// Plays the jobs `numbers` on `threads` threads. `take` is called on this thread with each run of
/// results that is whole so far, in the order of `numbers`: what it sees does not depend on the
/// number of threads but for where the runs end. What `take` or a job throws comes out once all
/// threads have ended.
void play_jobs(const trial::Trial& trial, const std::vector<std::size_t>& numbers,
               std::size_t threads,
               const std::function<void(const std::vector<trial::JobResult>&)>& take);

}  // namespace tickover::cli
