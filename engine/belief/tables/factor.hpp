/// @file
/// Discrete networks of any shape: variables of any number of states, and tables over them.
///
/// Example, a burglary's alarm: cardinality {2, 2}, factors {{0}, {0.999, 0.001}} and
/// {{0, 1}, {0.99, 0.01, 0.05, 0.95}}; P(no burglary | the alarm rings) is
/// infer(graph, {{1, 1}}).marginals[0][0].
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "engine/belief/scaled.hpp"

namespace tickover::belief::tables {

/// A non-negative table over a few variables, no variable twice. One value for each combination of
/// their states; the last variable of the scope changes fastest.
struct Factor {
  std::vector<std::size_t> scope;
  std::vector<double> values;
};

/// P(x) is the product of all factors, or in proportion to it. Of a Bayesian network the factors
/// are its conditional tables, each with the child last.
struct FactorGraph {
  std::vector<std::size_t> cardinality;  ///< states of each variable, at least 1
  std::vector<Factor> factors;
};

/// The variable is known to be in that state.
struct Observed {
  std::size_t variable = 0;
  std::size_t state = 0;
};

/// What is left of a network when the states known are put in. Variables of one state are known.
struct Reduced {
  std::vector<std::optional<std::size_t>> known;  ///< per variable: its state
  std::vector<Factor> factors;                    ///< none without a scope, none of known variables
  Scaled constant;  ///< product of the factors that have no scope left
};

/// The constant is 0 when two observations contradict each other.
Reduced reduce(const FactorGraph& graph, const std::vector<Observed>& observed);

/// For each position of `scope`, how far a table over `table_scope` is stepped through when that
/// variable goes up by one state: 0 for a variable it does not have.
std::vector<std::size_t> strides(const std::vector<std::size_t>& table_scope,
                                 const std::vector<std::size_t>& scope,
                                 const std::vector<std::size_t>& cardinality);

}  // namespace tickover::belief::tables
