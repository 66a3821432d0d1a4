/// @file
/// What speaks for and against a cause, and what contradicts what.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// 10 log10 of an odds factor. Unit: decibans. Source: Good 1950, chapter 6.
double decibans(double factor);

/// Weight of evidence of one source (entry) for a cause being present at epoch 0, given all earlier
/// sources: W = 10 log10 [P(e | c) / P(e | not c)], which is the change of the posterior odds.
struct Weight {
  std::size_t source = 0;
  double decibans = 0;
};

/// One weight per source that observed anything, in order of source; their sum and the prior odds
/// give the posterior odds. Weights are capped at +-kMostDecibans where odds become 0 or infinite.
std::vector<Weight> weights_of_evidence(const Case& given, std::size_t cause);
constexpr double kMostDecibans = 200;

/// The case with only the observations of sources up to and including `source`.
Case up_to(const Case& given, std::size_t source);

/// The sources of all observations and removals, ascending, none twice.
std::vector<std::size_t> sources(const Case& given);

/// Two sources that together are impossible, or the shortest run of sources that is (the last one
/// and as few earlier ones as needed). Empty when P(e) > 0.
std::vector<std::size_t> conflict(const Case& given);

}  // namespace tickover::belief
