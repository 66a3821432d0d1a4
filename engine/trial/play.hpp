/// @file
/// Jobs drawn from the knowledge and played by every policy.
#pragma once

#include <string>
#include <vector>

#include "engine/trial/policy.hpp"

namespace tickover::trial {

/// What is played. Kept constant while jobs are played, on any number of threads.
struct Trial {
  pack::Pack pack;
  Machine machine;
  Settings settings;
  std::uint64_t seed = 1;
  bool perturbed = false;             ///< truths drawn from numbers moved within their ranges
  double slips = 0;                   ///< P(a result is misread)
  std::vector<std::string> policies;  ///< by name
};

/// One job and what every policy made of it, in the order of Trial::policies.
struct JobResult {
  std::size_t job = 0;
  std::size_t drawn = 1;   ///< machines drawn until a rider complained
  std::size_t faults = 0;  ///< present at the beginning
  std::size_t told = 0;    ///< symptoms told of
  std::vector<Outcome> outcomes;
  bool operator==(const JobResult&) const = default;
};

/// A truth that a rider complains of.
struct Accepted {
  std::vector<std::size_t> risks;
  std::size_t drawn = 1;
  std::vector<Told> told;
};

/// Every number with a range moved in it, evenly by log-odds: priors, leaks, strengths of links,
/// success of repairs; odds of risks by their logarithm.
pack::Pack perturbed(pack::Pack pack, const Draws& draws);

/// The symptoms present that the rider speaks of: so many as `settings` has it, any alike.
std::vector<Told> told_by_rider(const World& world, const Settings& settings, const Draws& draws);

/// Plays jobs of one trial, one after another: what is the same for all is worked out once. For one
/// thread.
class Player {
 public:
  explicit Player(const Trial& trial);  ///< which must stay

  /// Draws the truth of job number `job` and plays it. Depends on nothing but the trial and the
  /// number. Does not end when no symptom of the machine can be present: see complaint_possible.
  JobResult play(std::size_t job);

 private:
  const Trial& trial_;
  Model truth_;  ///< of jobs whose numbers are not moved
  Model known_;  ///< to the policies
  const plan::Workshop workshop_;
};

/// One job by itself.
JobResult play_job(const Trial& trial, std::size_t job);

/// Whether any rider of this machine can ever complain.
bool complaint_possible(const Trial& trial);

}  // namespace tickover::trial
