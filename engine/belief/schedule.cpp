#include "engine/belief/schedule.hpp"

#include <algorithm>
#include <boost/dynamic_bitset.hpp>
#include <boost/graph/adjacency_list.hpp>
#include <map>
#include <optional>
#include <tuple>

namespace tickover::belief {
namespace {

using GroupSet = boost::dynamic_bitset<>;

/// Variables that can cover bits of just these groups: for the order they are alike.
struct Class {
  GroupSet groups;
  std::vector<std::size_t> variables;
};

void add_groups(const Problem& problem, const std::vector<std::size_t>& group_of,
                const State& state, GroupSet& groups) {
  for (const Emission& emission : state.emissions) {
    for (const std::size_t bit : problem.bits_of[emission.finding]) {
      if (group_of[bit] < groups.size()) groups.set(group_of[bit]);  // dropped bits have no group
    }
  }
}

std::vector<Class> classes_of(const Problem& problem) {
  std::vector<std::size_t> group_of(problem.bit_count, problem.groups.size());
  for (std::size_t g = 0; g < problem.groups.size(); ++g) {
    for (const std::size_t bit : problem.groups[g].bits) group_of[bit] = g;
  }
  std::vector<Class> classes;
  std::map<GroupSet, std::size_t> class_of;
  for (std::size_t v = 0; v < problem.variables.size(); ++v) {
    GroupSet groups(problem.groups.size());
    for (const State& state : problem.variables[v].states) {
      add_groups(problem, group_of, state, groups);
    }
    for (const State& state : problem.variables[v].removed) {
      add_groups(problem, group_of, state, groups);
    }
    if (groups.none()) continue;
    const auto [known, is_new] = class_of.emplace(groups, classes.size());
    if (is_new) classes.push_back({groups, {}});
    classes[known->second].variables.push_back(v);
  }
  return classes;
}

/// Vertices are the groups, then the classes; an edge where a class can cover a bit of the group.
using InteractionGraph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS>;

InteractionGraph interaction_graph(std::size_t groups, const std::vector<Class>& classes) {
  InteractionGraph graph(groups + classes.size());
  for (std::size_t c = 0; c < classes.size(); ++c) {
    for (std::size_t g = classes[c].groups.find_first(); g != GroupSet::npos;
         g = classes[c].groups.find_next(g)) {
      boost::add_edge(g, groups + c, graph);
    }
  }
  return graph;
}

class Scheduler {
 public:
  explicit Scheduler(const Problem& problem)
      : problem_(problem),
        classes_(classes_of(problem)),
        graph_(interaction_graph(problem.groups.size(), classes_)),
        waiting_(problem.groups.size()),
        open_(problem.groups.size()),
        closed_(problem.groups.size()),
        applied_(classes_.size()) {
    for (std::size_t g = 0; g < waiting_.size(); ++g) waiting_[g] = boost::out_degree(g, graph_);
  }

  Schedule run() {
    while (const auto next = cheapest_group()) complete(*next);
    return std::move(schedule_);
  }

 private:
  std::size_t bits(const GroupSet& groups) const {
    std::size_t sum = 0;
    for (std::size_t g = groups.find_first(); g != GroupSet::npos; g = groups.find_next(g)) {
      sum += problem_.groups[g].bits.size();
    }
    return sum;
  }

  std::vector<std::size_t> classes_left(std::size_t group) const {
    std::vector<std::size_t> left;
    const auto [begin, end] = boost::adjacent_vertices(group, graph_);
    for (auto vertex = begin; vertex != end; ++vertex) {
      const std::size_t c = *vertex - problem_.groups.size();
      if (!applied_[c]) left.push_back(c);
    }
    return left;
  }

  /// Bits open at once when every class of `group` has been opened for, and how many classes.
  std::tuple<std::size_t, std::size_t> cost_to_complete(std::size_t group) const {
    GroupSet needed = open_;
    needed.set(group);
    const std::vector<std::size_t> left = classes_left(group);
    for (const std::size_t c : left) needed |= classes_[c].groups;
    return {bits(needed), left.size()};
  }

  std::optional<std::size_t> cheapest_group() const {
    std::optional<std::size_t> best;
    std::tuple<std::size_t, std::size_t> best_cost;
    for (std::size_t g = 0; g < problem_.groups.size(); ++g) {
      if (closed_[g]) continue;
      const auto cost = cost_to_complete(g);
      if (best && cost >= best_cost) continue;
      best = g;
      best_cost = cost;
    }
    return best;
  }

  void complete(std::size_t group) {
    if (!open_[group]) open(group);
    for (std::vector<std::size_t> left = classes_left(group); !left.empty();
         left = classes_left(group)) {
      apply(*std::min_element(left.begin(), left.end(), [&](std::size_t a, std::size_t b) {
        return bits(classes_[a].groups - open_) < bits(classes_[b].groups - open_);
      }));
    }
    if (!closed_[group]) close(group);
  }

  void open(std::size_t group) {
    schedule_.steps.push_back({StepKind::open, group});
    open_.set(group);
    width_ += problem_.groups[group].bits.size();
    schedule_.width = std::max(schedule_.width, width_);
  }

  void close(std::size_t group) {
    schedule_.steps.push_back({StepKind::close, group});
    open_.reset(group);
    closed_.set(group);
    width_ -= problem_.groups[group].bits.size();
  }

  void apply(std::size_t c) {
    const GroupSet& groups = classes_[c].groups;
    for (std::size_t g = groups.find_first(); g != GroupSet::npos; g = groups.find_next(g)) {
      if (!open_[g]) open(g);
    }
    for (const std::size_t v : classes_[c].variables) {
      schedule_.steps.push_back({StepKind::apply, v});
    }
    applied_.set(c);
    for (std::size_t g = groups.find_first(); g != GroupSet::npos; g = groups.find_next(g)) {
      if (--waiting_[g] == 0) close(g);
    }
  }

  const Problem& problem_;
  const std::vector<Class> classes_;
  const InteractionGraph graph_;
  std::vector<std::size_t> waiting_;  ///< classes of the group not yet applied
  GroupSet open_, closed_, applied_;
  std::size_t width_ = 0;
  Schedule schedule_;
};

}  // namespace

Schedule schedule(const Problem& problem) { return Scheduler(problem).run(); }

}  // namespace tickover::belief
