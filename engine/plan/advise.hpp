/// @file
/// What to do next: every check with one step of lookahead, against repairing, verifying, handing
/// on.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "engine/plan/proposal.hpp"

namespace tickover::plan {

struct Advice {
  /// Least expected minutes first; but repairs of what was found before a question that would
  /// change nothing of them.
  std::vector<Proposal> proposals;
  std::vector<Proposal> too_long;  ///< take longer than Constraints::minutes; likewise
  Course course_now;               ///< looking and repairing without any further check
  double least_minutes = 0;  ///< no plan stays below it (bound.hpp); with detailed proposals only
  double known_minutes = 0;  ///< exact price of the cheapest plan among those worked out
  belief::Belief belief;
  double hand_on_minutes = 0;  ///< closing up, and the price of a machine handed on
  double cured_if_all = 0;     ///< P(cured) if every listed cause were removed
  /// If the complaint is still there after all of course_now: P(this cause alone is what is left),
  /// at most three, and P(something not on the list is behind it).
  std::vector<Suspect> left_over;
  double unlisted_left_over = 0;
  std::size_t points = 0;  ///< looked at ahead (Effort)
};

/// How far to look ahead. A point is what may be known after a result, or after a repair in vain.
struct Effort {
  std::size_t points = 24;  ///< looked at one step further, at most
  /// While the machine is apart, courses are planned for the results of all that is open, however
  /// little of it may come first.
  bool all_open = true;
  std::function<bool()> go_on = [] { return true; };  ///< asked before each
  /// Told in full and priced exactly wherever it stands, which moves nothing.
  std::function<bool(const Proposal&)> asked_about = nullptr;
};

/// Joint results of a check rarer than this are valued as if nothing had been learnt.
constexpr double kLeastResult = 0.04;
/// Readings that leave less doubt than this are taken as in order while plans are weighed.
constexpr double kDoubt = 0.01;

/// A symptom can be asked for as long as the rider speaks of the machine as found.
bool can_be_asked(const pack::Finding& finding, const Evidence& evidence);

/// `evidence` must hold a complaint. One step of lookahead with courses as leaf values (Heckerman,
/// Breese & Rommelse 1995, expected cost of observation), planned and for the most part priced over
/// scenarios (Lookahead); the joint results of a check done at several places are followed as far
/// as they are likely, the rest is valued as if nothing had been learnt. The first `detailed`
/// proposals, one at least, are priced exactly; those asked for are told in full (suspects,
/// decides).
Advice advise(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
              std::size_t detailed = 1, const Effort& effort = {});

}  // namespace tickover::plan
