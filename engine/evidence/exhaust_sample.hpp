/// @file
/// A sample of exhaust gas as evidence: "CO 0.4% CO2 12% HC 300ppm O2 3.5%".
#pragma once

#include <string>

#include "engine/evidence/reading.hpp"

namespace tickover {

/// Most places that one sample may be taken of: each has three ways in which it can be moved.
constexpr std::size_t kMostSampled = 3;

/// Reads the gases of `finding` from `text`, any order, each a name and a value with its unit, and
/// works out lambda by the Brettschneider equation
/// (gas/exhaust.hpp, petrol of the emission rules, HC as hexane). Its error is propagated from the
/// cells' by first differences. Throws InputError (usage): an unknown, missing or repeated gas, a
/// missing unit, a wrong dimension, or a value outside its plausible range, naming the probable
/// slip.
SampleLambda parse_exhaust_sample(const pack::Finding& finding, const std::string& text);

/// True when the gases do not fit each other: their balance is off by more than four standard
/// deviations, so that one cell or one figure is wrong.
bool needs_confirmation(const SampleLambda& sample);

/// Density of a sample whose true lambda is hidden: `places` places blow into the pipe, and so many
/// of them are moved rich, lean, and thinned.
///
/// The true lambda T is normal about the wanted one, the tolerance being two standard deviations,
/// or lies beyond the limit by an exponential way (of which a pipe shared by n shows 1/n for each
/// place moved). Lambda as measured is T, and when thinned more than that by an exponential way of
/// mean `thinning`; lambda from the burnt gases (undiluted) is the smaller of T and 1, since CO
/// falls to nothing there. Each is blurred by the cells and by `mixture.instrument`, the scatter
/// from cycle to cycle; their errors are taken to be independent. T is integrated out by
/// quadrature. So a consistent lean sample speaks for lean, while oxygen beside the CO of a rich
/// burn speaks for thinning, and hardly for lean. A share `slip` says nothing: uniform over the
/// plausible range for the one lambda, and below 1 for the other.
struct SampleModel {
  ReadingModel mixture;
  double thinning = 0;  ///< mean rise of lambda by outside air; 0: nothing thins it
};
struct Moved {
  std::size_t rich = 0, lean = 0, thinned = 0;
};
double sample_density(const SampleModel& model, const SampleLambda& sample, std::size_t places,
                      const Moved& moved);

SampleModel sample_model(const Model& model, const FindingInstance& instance);

/// The ways of a sample of these places (indices into Model::findings), as bits of its table.
std::vector<Way> sample_ways(const SampleModel& model, const std::vector<std::size_t>& findings);

/// The sample over the ways of all its places (indices into Model::findings), at most kMostSampled.
JointLikelihood sample_likelihood(const SampleModel& model, const SampleLambda& sample,
                                  const std::vector<std::size_t>& findings);

}  // namespace tickover
