/// @file
/// The results a check may have, with their probabilities. Inside plan only.
#pragma once

#include <string>
#include <vector>

#include "engine/belief/ground.hpp"

namespace tickover::plan {

/// One joint result over all places of a check.
struct Result {
  std::vector<std::pair<Place, std::string>> answers;
  std::vector<Observation> observations;
  double probability = 0;
  double log_evidence = 0;  ///< of the case with these observations
};

/// Follows the answers place by place while a joint result stays more probable than `least`.
/// The probabilities of what is returned sum to 1 less what was too rare.
std::vector<Result> results_of(const belief::Ground& ground, const Model& model,
                               belief::Case& given, double log_evidence, std::size_t finding,
                               const std::vector<Place>& places, std::size_t epoch, double least);

}  // namespace tickover::plan
