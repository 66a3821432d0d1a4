/// @file
/// Two causes that both may be it: which finding tells them apart.
#pragma once

#include <optional>
#include <vector>

#include "engine/evidence/evidence.hpp"
#include "engine/machine/model.hpp"
#include "engine/plan/course.hpp"

namespace tickover::vet {

/// How often the answer tells which of two equally probable states holds: (1 + total variation
/// distance) / 2, what the best guess after the answer attains.
double right_guesses(const std::vector<double>& a, const std::vector<double>& b);

/// Two causes that stand near each other, and the cheapest check whose answer tells which it is.
struct NotApart {
  std::size_t cause = 0, other = 0;  ///< indices into Model::causes, the more probable first
  std::optional<std::size_t> check;  ///< index into pack.checks; none when no check is left
  std::size_t finding = 0;           ///< index into Model::findings, with a check
  double minutes = 0;                ///< of the check at that place, opening included
  double right = 0;                  ///< right guesses by it, from even odds
};

/// Pairs among the leading causes of which neither has ten times the odds of the other, most
/// probable first, at most `count`; pairs of which both are more probable than not are left out.
/// `present` is P(present now) of each cause. Answers are weighed from even odds between the two
/// with the others at their priors (Answers), so in closed form; a check counts where it guesses
/// right at least kToldApart of the time, and was not done since the last repair.
std::vector<NotApart> not_told_apart(const plan::Workshop& workshop, const Evidence& evidence,
                                     const std::vector<double>& present, std::size_t count);

/// Less probable causes are not paired.
constexpr double kLeastPaired = 0.05;

}  // namespace tickover::vet
