#include "engine/belief/tables/factor.hpp"

#include <algorithm>

namespace tickover::belief::tables {
namespace {

/// The factor where the known variables are in their states.
Factor slice(const Factor& factor, const Reduced& reduced,
             const std::vector<std::size_t>& cardinality) {
  Factor out;
  std::size_t offset = 0;
  const std::vector<std::size_t> steps = strides(factor.scope, factor.scope, cardinality);
  std::vector<std::size_t> kept;  // steps of the variables that stay
  for (std::size_t i = 0; i < factor.scope.size(); ++i) {
    if (const auto state = reduced.known[factor.scope[i]]) {
      offset += steps[i] * *state;
    } else {
      out.scope.push_back(factor.scope[i]);
      kept.push_back(steps[i]);
    }
  }
  std::vector<std::size_t> states(out.scope.size(), 0);
  while (true) {
    out.values.push_back(factor.values[offset]);
    std::size_t i = states.size();
    while (i > 0 && ++states[i - 1] == cardinality[out.scope[i - 1]]) {
      states[i - 1] = 0;
      offset -= kept[i - 1] * (cardinality[out.scope[i - 1]] - 1);
      --i;
    }
    if (i == 0) return out;
    offset += kept[i - 1];
  }
}

}  // namespace

std::vector<std::size_t> strides(const std::vector<std::size_t>& table_scope,
                                 const std::vector<std::size_t>& scope,
                                 const std::vector<std::size_t>& cardinality) {
  std::vector<std::size_t> steps(scope.size(), 0);
  std::size_t step = 1;
  for (std::size_t i = table_scope.size(); i-- > 0;) {
    const auto at = std::find(scope.begin(), scope.end(), table_scope[i]);
    if (at != scope.end()) steps[static_cast<std::size_t>(at - scope.begin())] = step;
    step *= cardinality[table_scope[i]];
  }
  return steps;
}

Reduced reduce(const FactorGraph& graph, const std::vector<Observed>& observed) {
  Reduced reduced;
  reduced.constant = normal({1, 0});
  reduced.known.resize(graph.cardinality.size());
  for (std::size_t v = 0; v < graph.cardinality.size(); ++v) {
    if (graph.cardinality[v] == 1) reduced.known[v] = 0;
  }
  for (const Observed& one : observed) {
    std::optional<std::size_t>& known = reduced.known[one.variable];
    if (known && *known != one.state) reduced.constant = {};
    known = one.state;
  }
  for (const Factor& factor : graph.factors) {
    Factor left = slice(factor, reduced, graph.cardinality);
    if (left.scope.empty()) {
      reduced.constant = reduced.constant * left.values.front();
    } else {
      reduced.factors.push_back(std::move(left));
    }
  }
  return reduced;
}

}  // namespace tickover::belief::tables
