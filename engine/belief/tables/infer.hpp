/// @file
/// Exact answers about a discrete network of any shape, by variable elimination.
///
/// Method: variables are taken in the order of order.hpp; the tables with the one taken are
/// multiplied and summed (or maximised) over it into a message on the rest, which is a table for
/// those still to come. The messages form a tree; one pass gives P(e) or the most probable
/// assignment, a second one back all marginals. Products are never stored, only messages are. All
/// terms are non-negative; messages are scaled by powers of two, products formed in long double.
/// Ratios beyond 1e-300 within one message are lost.
/// Source: Dechter 1999, Bucket elimination, Artificial Intelligence 113:41-85.
#pragma once

#include <vector>

#include "engine/belief/tables/factor.hpp"
#include "engine/belief/tables/order.hpp"

namespace tickover::belief::tables {

/// When the network is too wide for `limit` bytes, `need.too_wide` is set and all else is empty.
/// `contradiction`: P(e) = 0; then there are no marginals.
struct Posterior {
  Need need;
  bool contradiction = false;
  double log_evidence = 0;                     ///< natural log of the sum over all assignments
  std::vector<std::vector<double>> marginals;  ///< [variable][state], each sums to 1
};
Posterior infer(const FactorGraph& graph, const std::vector<Observed>& observed,
                double limit = kMostBytes);

struct MostProbable {
  Need need;
  bool contradiction = false;       ///< then there are no states
  double log_probability = 0;       ///< natural log of P(states, e)
  std::vector<std::size_t> states;  ///< one per variable; on a tie any of them, always the same
};
MostProbable most_probable(const FactorGraph& graph, const std::vector<Observed>& observed,
                           double limit = kMostBytes);

}  // namespace tickover::belief::tables
