/// @file
/// The next step for a model that differs in a number, so that it can be told whether that number
/// decides what is done.
#pragma once

#include "engine/plan/advise.hpp"

namespace tickover::plan {

/// The first proposal for `model`; with the evidence of a model that differs only in numbers.
/// `evidence` must hold a complaint.
Proposal next_step(const Model& model, const Evidence& evidence);

/// True when a mechanic would do the same thing now: the same check at the same places, or a course
/// that begins with the same look or repair.
bool same_step(const Proposal& a, const Proposal& b);

}  // namespace tickover::plan
