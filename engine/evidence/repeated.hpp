/// @file
/// One part read several times: the instrument errs anew each time, the part does not.
#pragma once

#include <vector>

#include "engine/evidence/reading.hpp"

namespace tickover {

/// Joint densities of several readings (SI) of the same part as it stands, in each state:
///   integral over t of prior(t | state) * product over i of density(value i | t),
/// t the part's true value: normal within the tolerance, or beyond it by an exponential way, as in
/// `likelihood`; density(value | t) normal about t by the instrument, or a slip, uniform over the
/// plausible range. For one reading it is `likelihood`. So readings that agree shut out slips and
/// average the instrument, and do not count the part's own deviation twice. By Gauss-Legendre
/// quadrature (relative error below 1e-7). `values` must not be empty.
ReadingLikelihood joint_density(const ReadingModel& reading, const std::vector<double>& values);

/// What each reading adds to those before it: the ratio of the joint densities with and without it.
/// The cap of a single reading holds for each (cap_decibans).
std::vector<ReadingLikelihood> repeated_likelihoods(const ReadingModel& reading,
                                                    const std::vector<double>& values);

}  // namespace tickover
