/// @file
/// Ways of working that are compared: each decides what to do next on a simulated job.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "engine/trial/settings.hpp"
#include "engine/trial/simulation.hpp"

namespace tickover::trial {

/// The policy that knows the faults.
constexpr const char* kTruth = "truth";

/// Decides until the job is over. One object plays one job.
class Policy {
 public:
  virtual ~Policy() = default;
  /// Does the next thing; at least one entry is added each time.
  virtual void act(Simulation& job) = 0;
};

struct PolicyEntry {
  std::string name, meaning;
  std::unique_ptr<Policy> (*make)(const Settings& settings);
};

/// All policies; this planner first, the one that knows the truth last.
const std::vector<PolicyEntry>& policies();
const PolicyEntry& policy_named(const std::string& name);  ///< must exist

// One file each, policy_*.cpp.
std::unique_ptr<Policy> planner_policy(const Settings& settings);
std::unique_ptr<Policy> one_step_policy(const Settings& settings);
std::unique_ptr<Policy> one_step_exact_policy(const Settings& settings);
std::unique_ptr<Policy> ratio_policy(const Settings& settings);
std::unique_ptr<Policy> most_probable_policy(const Settings& settings);
std::unique_ptr<Policy> entropy_policy(const Settings& settings);
std::unique_ptr<Policy> printed_order_policy(const Settings& settings);
std::unique_ptr<Policy> strip_first_policy(const Settings& settings);
std::unique_ptr<Policy> truth_policy(const Settings& settings);

/// Plays one job to its end; a policy that does not come to one hands on.
Outcome play(Policy& policy, Simulation& job);

}  // namespace tickover::trial
