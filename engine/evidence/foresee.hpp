/// @file
/// What a reading not yet taken may show, coarsely: for planning.
#pragma once

#include <string>
#include <vector>

#include "engine/evidence/reading.hpp"

namespace tickover {

/// One side a reading may fall on, with its probability for each combination of ways.
struct ForeseenReading {
  std::string answer;  ///< "low", "within", "high", "thinned"
  JointLikelihood likelihood;
};

/// The sides on which the reading `instance` (index into Model::findings) may fall; their
/// probabilities sum to 1 for every combination of ways.
/// Against siblings without a sheet's value the level is taken as known from the others, unless
/// there are no more than three and all of them are moved: then none stands out. An exhaust sample
/// is foreseen without the blur of the cells.
std::vector<ForeseenReading> foresee(const Model& model, std::size_t instance);

/// Probabilities of a reading falling below, within or above its limits, in each state.
std::vector<ReadingLikelihood> side_likelihoods(const Model& model,
                                                const FindingInstance& instance);

}  // namespace tickover
