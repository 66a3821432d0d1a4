#include "engine/belief/tables/order.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <cmath>
#include <utility>

namespace tickover::belief::tables {
namespace {

/// An edge where two variables stand in one table.
using InteractionGraph = boost::adjacency_list<boost::setS, boost::vecS, boost::undirectedS>;

InteractionGraph interaction_graph(const Reduced& reduced) {
  InteractionGraph graph(reduced.known.size());
  for (const Factor& factor : reduced.factors) {
    for (const std::size_t a : factor.scope) {
      for (const std::size_t b : factor.scope) {
        if (a < b) boost::add_edge(a, b, graph);
      }
    }
  }
  return graph;
}

enum class Rule { fill, weight };

/// A hub's missing edges are not counted but taken at their most: it is not next anyway.
constexpr std::size_t kLargestCounted = 64;
/// When it is already too wide, an order is still brought to its end for the sake of the treewidth
/// told, but not in a graph of more edges: it would fill the memory itself.
constexpr std::size_t kMostEdges = 50'000;

/// Takes variable after variable out of the graph and joins its neighbours.
class Elimination {
 public:
  Elimination(const Reduced& reduced, const std::vector<std::size_t>& cardinality, Rule rule,
              double limit)
      : rule_(rule), limit_(limit), graph_(interaction_graph(reduced)) {
    for (const std::size_t states : cardinality) {
      weight_.push_back(std::log2(static_cast<double>(states)));
    }
    costs_.resize(cardinality.size());
    for (std::size_t v = 0; v < cardinality.size(); ++v) {
      if (reduced.known[v]) continue;
      left_.push_back(v);
      costs_[v] = cost(v);
    }
  }

  Order run() {
    while (!left_.empty()) {
      if (order_.need.bytes > limit_ && boost::num_edges(graph_) > kMostEdges) {
        order_.need.at_least = true;
        break;
      }
      const auto next =
          std::min_element(left_.begin(), left_.end(),
                           [&](std::size_t a, std::size_t b) { return costs_[a] < costs_[b]; });
      const std::size_t v = *next;
      left_.erase(next);
      eliminate(v);
    }
    order_.need.too_wide = order_.need.bytes > limit_;
    return std::move(order_);
  }

 private:
  /// Missing edges among the neighbours (nothing by min-weight), then bits of the table.
  using Cost = std::pair<std::size_t, double>;

  std::vector<std::size_t> neighbours(std::size_t v) const {
    const auto [begin, end] = boost::adjacent_vertices(v, graph_);
    return {begin, end};
  }

  Cost cost(std::size_t v) const {
    const std::vector<std::size_t> around = neighbours(v);
    double bits = weight_[v];
    for (const std::size_t w : around) bits += weight_[w];
    return {rule_ == Rule::fill ? missing_edges(around) : 0, bits};
  }

  std::size_t missing_edges(const std::vector<std::size_t>& around) const {
    const std::size_t most = around.size() * (around.size() - 1) / 2;
    if (around.size() < 2 || around.size() > kLargestCounted) return around.size() < 2 ? 0 : most;
    std::size_t missing = 0;
    for (std::size_t i = 0; i < around.size(); ++i) {
      for (std::size_t j = i + 1; j < around.size(); ++j) {
        missing += !boost::edge(around[i], around[j], graph_).second;
      }
    }
    return missing;
  }

  void eliminate(std::size_t v) {
    const std::vector<std::size_t> around = neighbours(v);
    double bits = 0;
    for (const std::size_t w : around) bits += weight_[w];
    order_.variables.push_back(v);
    order_.need.treewidth = std::max(order_.need.treewidth, around.size());
    order_.need.bytes += kBytesAnEntry * std::exp2(bits);
    boost::clear_vertex(v, graph_);
    std::vector<std::size_t> changed = around;
    for (std::size_t i = 0; i < around.size(); ++i) {
      for (std::size_t j = i + 1; j < around.size(); ++j) {
        boost::add_edge(around[i], around[j], graph_);
      }
    }
    for (const std::size_t w : around) add_if_small(w, changed);
    std::sort(changed.begin(), changed.end());
    changed.erase(std::unique(changed.begin(), changed.end()), changed.end());
    for (const std::size_t w : changed) costs_[w] = cost(w);
  }

  /// The neighbours of w may have fewer edges missing among their own.
  void add_if_small(std::size_t w, std::vector<std::size_t>& changed) const {
    if (rule_ == Rule::weight) return;
    for (const std::size_t x : neighbours(w)) {
      if (boost::out_degree(x, graph_) <= kLargestCounted) changed.push_back(x);
    }
  }

  const Rule rule_;
  const double limit_;
  InteractionGraph graph_;
  std::vector<double> weight_;
  std::vector<Cost> costs_;
  std::vector<std::size_t> left_;
  Order order_;
};

}  // namespace

Order find_order(const Reduced& reduced, const std::vector<std::size_t>& cardinality,
                 double limit) {
  Order by_weight = Elimination(reduced, cardinality, Rule::weight, limit).run();
  Order by_fill = Elimination(reduced, cardinality, Rule::fill, limit).run();
  if (by_fill.need.at_least != by_weight.need.at_least) {
    return by_fill.need.at_least ? by_weight : by_fill;
  }
  return by_fill.need.bytes < by_weight.need.bytes ? by_fill : by_weight;
}

}  // namespace tickover::belief::tables
