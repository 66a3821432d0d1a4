/// @file
/// How far an answer can move at most when numbers of the network change, told without a sweep.
#pragma once

#include "engine/belief/infer.hpp"

namespace tickover::belief {

/// No less than |P'(cause present now | e) - P(cause present now | e)|, where `belief` is that of
/// `given` and `varied` is the same evidence on the same network with other priors, leaks,
/// strengths, or other numbers of CauseObservation. Unit: probability.
/// Method: every world (lives of causes, and what each link and leak would produce) becomes r times
/// as probable, r a product of ratios of the numbers that changed. With w >= E|r - 1| the answer
/// moves by at most w max(P, 1 - P) / (1 - w); and odds by at most max r / min r (Chan & Darwiche
/// 2005, A distance measure for bounding probabilistic belief change, from memory). A link counts
/// in w only as far as its cause is present, which keeps most of them small.
double most_moved(const Case& given, const Belief& belief, const Case& varied, std::size_t cause);

}  // namespace tickover::belief
