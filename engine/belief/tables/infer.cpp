#include "engine/belief/tables/infer.hpp"

#include <cmath>
#include <limits>

#include "engine/belief/tables/bucket_tree.hpp"

namespace tickover::belief::tables {
namespace {

constexpr double kImpossible = -std::numeric_limits<double>::infinity();

/// ln of the product of all factors. Added up in logs, so that nothing can underflow.
double log_product(const FactorGraph& graph, const std::vector<std::size_t>& states) {
  double sum = 0;
  for (const Factor& factor : graph.factors) {
    std::size_t index = 0;
    for (const std::size_t v : factor.scope) index = index * graph.cardinality[v] + states[v];
    sum += std::log(factor.values[index]);
  }
  return sum;
}

}  // namespace

Posterior infer(const FactorGraph& graph, const std::vector<Observed>& observed, double limit) {
  const Reduced reduced = reduce(graph, observed);
  const Order order = find_order(reduced, graph.cardinality, limit);
  Posterior out{order.need, false, 0, {}};
  if (out.need.too_wide) return out;
  BucketTree tree(reduced, graph.cardinality, order);
  out.log_evidence = tree.pass_up(Combine::sum).log();
  out.contradiction = !std::isfinite(out.log_evidence);
  if (out.contradiction) return out;
  for (std::size_t v = 0; v < graph.cardinality.size(); ++v) {
    out.marginals.emplace_back(graph.cardinality[v], 0);
    if (reduced.known[v]) out.marginals[v][*reduced.known[v]] = 1;
  }
  const std::vector<std::vector<double>> free = tree.pass_down();
  for (std::size_t b = 0; b < free.size(); ++b) out.marginals[order.variables[b]] = free[b];
  return out;
}

MostProbable most_probable(const FactorGraph& graph, const std::vector<Observed>& observed,
                           double limit) {
  const Reduced reduced = reduce(graph, observed);
  const Order order = find_order(reduced, graph.cardinality, limit);
  MostProbable out{order.need, false, 0, {}};
  if (out.need.too_wide) return out;
  BucketTree tree(reduced, graph.cardinality, order);
  if (!(tree.pass_up(Combine::maximum).mantissa > 0)) {
    out.contradiction = true;
    out.log_probability = kImpossible;
    return out;
  }
  const std::vector<std::size_t> best = tree.best_states();
  for (const std::optional<std::size_t>& state : reduced.known) {
    out.states.push_back(state.value_or(0));
  }
  for (std::size_t b = 0; b < best.size(); ++b) out.states[order.variables[b]] = best[b];
  out.log_probability = log_product(graph, out.states);
  return out;
}

}  // namespace tickover::belief::tables
