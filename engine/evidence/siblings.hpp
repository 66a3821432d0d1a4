/// @file
/// Readings of the same kind at several places of one engine, judged by each other.
#pragma once

#include <vector>

#include "engine/evidence/reading.hpp"

namespace tickover {

/// Each place in order reads the common level of its siblings, give or take the tolerance; a place
/// that something has moved lies beyond it in the one direction of the links. The level is hidden:
/// normal about the sheet's value (the tolerance being two standard deviations) where there is one;
/// else anything, which the plausible range only scales.
struct SiblingModel {
  ReadingModel place;  ///< a place once the level is known; `wanted` is not used
  bool moved_low = true;
  bool level_known = false;  ///< a sheet's value is given
  double level = 0, level_deviation = 0;
};

/// `finding` must have a sibling tolerance.
SiblingModel sibling_model(const Model& model, const pack::Finding& finding);

/// Joint density of the values (SI), one for each place, for every set of moved places: bit i of
/// the index is set when place i is moved. The level is integrated out:
///   integral over L of prior(L) * product over i of density(value i | L, moved i),
/// by Gauss-Legendre quadrature (relative error below 1e-7). Where the level may be anything, the
/// prior is 1 / plausible range on the whole line, and the term in which every reading slipped,
/// which does not depend on L, is counted once. One reading alone then tells nothing, exactly. The
/// share that slips bounds the factor by which reading i can tell apart moved from not moved:
/// cap_decibans(place), whatever the others read.
std::vector<double> sibling_likelihood(const SiblingModel& siblings,
                                       const std::vector<double>& values);

/// What reading i adds to those before it, over the places read so far (`findings` indexes
/// Model::findings): the ratio of the joint densities with and without it. The product over all
/// readings is the joint density, whatever their order.
std::vector<JointLikelihood> sibling_likelihoods(const SiblingModel& siblings,
                                                 const std::vector<std::size_t>& findings,
                                                 const std::vector<double>& values);

}  // namespace tickover
