#include <algorithm>
#include <cassert>

#include "engine/trial/policy.hpp"

namespace tickover::trial {
namespace {

/// No mechanic does more on one job before giving it up.
constexpr std::size_t kMostActions = 400;

}  // namespace

const std::vector<PolicyEntry>& policies() {
  static const std::vector<PolicyEntry> all = {
      {"planner", "this planner, as 'next' does it", planner_policy},
      {"one-step", "one step ahead, over scenarios alone", one_step_policy},
      {"one-step-exact", "as 'next --nodes 0' does it: what comes first priced exactly",
       one_step_exact_policy},
      {"ratio", "p/c greedy: the planner's course without any further check", ratio_policy},
      {"most-probable", "looks at the most probable cause, then repairs it", most_probable_policy},
      {"entropy", "the check with most information per minute, then repairs", entropy_policy},
      {"printed-order", "a printed trouble chart, line by line", printed_order_policy},
      {"strip-first", "strips and looks at everything, then as ratio", strip_first_policy},
      {kTruth, "knows the faults: what no policy can beat", truth_policy}};
  return all;
}

const PolicyEntry& policy_named(const std::string& name) {
  const auto found = std::find_if(policies().begin(), policies().end(),
                                  [&](const PolicyEntry& one) { return one.name == name; });
  assert(found != policies().end());
  return *found;
}

Outcome play(Policy& policy, Simulation& job) {
  for (std::size_t i = 0; i < kMostActions && !job.over(); ++i) policy.act(job);
  if (!job.over()) job.hand_on();
  return job.outcome();
}

}  // namespace tickover::trial
