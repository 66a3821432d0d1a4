#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/depth_first_search.hpp>
#include <boost/graph/topological_sort.hpp>
#include <set>

#include "engine/pack/pack.hpp"

namespace tickover::pack {
namespace {

/// An arrow from a layer to each layer that must be open before it.
using LayerGraph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS>;

LayerGraph graph_of(const std::vector<Layer>& layers) {
  LayerGraph graph(layers.size());
  for (std::size_t i = 0; i < layers.size(); ++i) {
    for (const std::size_t before : layers[i].behind) boost::add_edge(i, before, graph);
  }
  return graph;
}

/// Remembers the path of the search and keeps the first cycle that a back edge closes.
class CycleVisitor : public boost::dfs_visitor<> {
 public:
  CycleVisitor(std::vector<std::size_t>& path, std::vector<std::size_t>& cycle)
      : path_(path), cycle_(cycle) {}
  void discover_vertex(std::size_t layer, const LayerGraph&) { path_.push_back(layer); }
  void finish_vertex(std::size_t, const LayerGraph&) { path_.pop_back(); }
  void back_edge(LayerGraph::edge_descriptor edge, const LayerGraph& graph) {
    if (!cycle_.empty()) return;
    const auto start = std::find(path_.begin(), path_.end(), boost::target(edge, graph));
    cycle_.assign(start, path_.end());
  }

 private:
  std::vector<std::size_t>& path_;
  std::vector<std::size_t>& cycle_;
};

}  // namespace

std::vector<std::size_t> access_cycle(const std::vector<Layer>& layers) {
  std::vector<std::size_t> path, cycle;
  boost::depth_first_search(graph_of(layers), boost::visitor(CycleVisitor(path, cycle)));
  return cycle;
}

std::vector<std::size_t> with_prerequisites(const Pack& pack,
                                            const std::vector<std::size_t>& wanted) {
  const LayerGraph graph = graph_of(pack.layers);
  std::vector<std::size_t> outermost_first;  // topological_sort puts targets before sources
  boost::topological_sort(graph, std::back_inserter(outermost_first));
  std::set<std::size_t> needed(wanted.begin(), wanted.end());
  for (auto layer = outermost_first.rbegin(); layer != outermost_first.rend(); ++layer) {
    if (!needed.count(*layer)) continue;
    const std::vector<std::size_t>& behind = pack.layers[*layer].behind;
    needed.insert(behind.begin(), behind.end());
  }
  std::vector<std::size_t> result;
  for (const std::size_t layer : outermost_first) {
    if (needed.count(layer)) result.push_back(layer);
  }
  return result;
}

}  // namespace tickover::pack
