/// @file
/// A narrower case: for planning, where a thousand cases are weighed and none is shown, and where
/// the whole one is too wide to be swept.
#pragma once

#include "engine/belief/infer.hpp"

namespace tickover::belief {

/// Of the case without any sensor; rough where it takes more than `widest` bits.
Belief without_sensors(const Case& given, std::size_t widest = kWidest);

/// The case in which findings that sensors leave no doubt of are taken as absent: those present
/// with probability at most `doubt`. Each then costs no bit, where a sensor's table keeps one alive
/// for each of its findings. What is left of the tables stays. The probability of a finding is
/// estimated from the tables of its epoch and from the causes' marginals without any sensor, as if
/// causes and findings were independent; answers move by about the sum of the doubts. `expected`:
/// without_sensors(given), where it is known already.
Case decided(Case given, double doubt, const Belief* expected = nullptr);

/// The case itself where `widest` bits are enough for it. Else decided() with the least doubt, of a
/// few, that makes it narrow enough, or with the most of them; Case::doubt tells. The case itself
/// where kWidest bits are too few all the same, and where the narrowed one contradicts itself.
Case narrowed(Case given, std::size_t widest = kWidest);

/// infer(narrowed(given)), but not `exact` and with proven bounds where the case was narrowed. With
/// A: all findings taken as absent are, and U >= P(e, not A): P(e, A, c) <= P(e, c) <= P(e, A, c) +
/// U, and the same for P(e). U is a sum over those findings: each present in turn, what the sensors
/// say of the others at its most. Belief::log_evidence is that of the narrowed case. As infer()
/// where nothing was narrowed.
Belief infer_narrowed(const Case& given, std::size_t widest = kWidest);

}  // namespace tickover::belief
