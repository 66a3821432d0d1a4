#include "engine/belief/schedule.hpp"

#include <algorithm>
#include <bit>
#include <boost/dynamic_bitset.hpp>
#include <boost/graph/adjacency_list.hpp>
#include <boost/random/linear_congruential.hpp>
#include <map>
#include <optional>
#include <tuple>

namespace tickover::belief {
namespace {

using GroupSet = boost::dynamic_bitset<>;

/// Variables that can cover bits of just these groups: for the order they are alike.
struct Class {
  GroupSet groups;
  std::vector<std::uint32_t> variables;
};

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

/// Min-weight: group after group, each with the classes that complete it.
class Elimination {
 public:
  Elimination(const Problem& problem, std::vector<Class> classes, std::uint32_t attempt)
      : stray_(attempt > 0),
        chance_(attempt),
        problem_(problem),
        classes_(std::move(classes)),
        left_(problem.groups.size()),
        needed_(problem.groups.size(), GroupSet(problem.groups.size())),
        open_(problem.groups.size()),
        some_(problem.groups.size()) {
    const InteractionGraph graph = interaction_graph(problem.groups.size(), classes_);
    for (std::size_t g = 0; g < left_.size(); ++g) {
      const auto [begin, end] = boost::adjacent_vertices(g, graph);
      for (auto vertex = begin; vertex != end; ++vertex) {
        left_[g].push_back(*vertex - problem.groups.size());
      }
      see_what_is_needed(g);
      one_bit_each_ = one_bit_each_ && problem.groups[g].bits.size() == 1;
    }
  }

  Order run() {
    while (const auto next = cheapest_group()) complete(*next);
    return std::move(order_);
  }

 private:
  std::size_t bits(const GroupSet& groups) const {
    if (one_bit_each_) return groups.count();
    std::size_t sum = 0;
    for (std::size_t g = groups.find_first(); g != GroupSet::npos; g = groups.find_next(g)) {
      sum += problem_.groups[g].bits.size();
    }
    return sum;
  }

  void see_what_is_needed(std::size_t group) {
    needed_[group].reset();
    for (const std::size_t c : left_[group]) needed_[group] |= classes_[c].groups;
  }

  /// Bits open at once when every class of `group` has been opened for, and how many classes.
  std::tuple<std::size_t, std::size_t> cost_to_complete(std::size_t group) {
    some_ = open_;
    some_ |= needed_[group];
    return {bits(some_), left_[group].size()};
  }

  /// Bits that the class would open.
  std::size_t newly_open(std::size_t c) {
    some_ = classes_[c].groups;
    some_ -= open_;
    return bits(some_);
  }

  std::optional<std::size_t> cheapest_group() {
    std::optional<std::size_t> best;
    std::tuple<std::size_t, std::size_t> best_cost;
    for (std::size_t g = 0; g < left_.size(); ++g) {
      if (left_[g].empty()) continue;
      auto cost = cost_to_complete(g);
      if (stray_ && chance_() % 4 == 0) ++std::get<0>(cost);
      if (best && cost >= best_cost) continue;
      best = g;
      best_cost = cost;
    }
    return best;
  }

  void complete(std::size_t group) {
    while (!left_[group].empty()) {
      std::size_t next = left_[group].front(), fewest = newly_open(next);
      for (const std::size_t c : left_[group]) {
        const std::size_t its = newly_open(c);
        if (its < fewest) std::tie(next, fewest) = std::tie(c, its);
      }
      apply(next);
    }
  }

  void apply(std::size_t c) {
    const GroupSet& groups = classes_[c].groups;
    open_ |= groups;
    order_.insert(order_.end(), classes_[c].variables.begin(), classes_[c].variables.end());
    for (std::size_t g = groups.find_first(); g != GroupSet::npos; g = groups.find_next(g)) {
      std::erase(left_[g], c);
      see_what_is_needed(g);
      if (left_[g].empty()) open_.reset(g);
    }
  }

  const bool stray_;
  boost::random::minstd_rand chance_;
  const Problem& problem_;
  const std::vector<Class> classes_;
  bool one_bit_each_ = true;
  std::vector<std::vector<std::size_t>> left_;  ///< classes of the group not yet applied
  std::vector<GroupSet> needed_;                ///< groups of those
  GroupSet open_, some_;
  Order order_;
};

constexpr std::uint32_t kNoGroup = static_cast<std::uint32_t>(-1);

/// Far more than any sweep can have; all beyond share the last.
constexpr int kMostSlots = 62;

/// Hands out the lowest free slots, and knows how long a vector must be.
class Slots {
 public:
  std::uint8_t take() {
    const auto slot = static_cast<std::uint8_t>(std::min(std::countr_one(used_), kMostSlots));
    used_ |= std::uint64_t{1} << slot;
    return slot;
  }
  void give_back(std::uint8_t slot) { used_ &= ~(std::uint64_t{1} << slot); }
  std::size_t width() const { return static_cast<std::size_t>(std::bit_width(used_)); }
  /// Beyond 31 slots nobody sweeps; the size is then meaningless.
  std::uint32_t size() const { return width() < 32 ? std::uint32_t{1} << width() : 0; }

 private:
  std::uint64_t used_ = 0;
};

}  // namespace

bool Scheduler::take(const Problem& problem) {
  problem_ = &problem;
  touched_.swap(touched_before_);
  touched_of_.swap(touched_of_before_);
  group_of_.swap(group_before_);
  find_touched();
  return touched_ == touched_before_ && touched_of_ == touched_of_before_ &&
         group_of_ == group_before_;
}

/// Works out which bits each variable can cover.
void Scheduler::find_touched() {
  const Problem& problem = *problem_;
  std::size_t most = 0;
  for (const Emission& emission : problem.emissions) {
    most += emission.one_bit() ? 1 : static_cast<std::size_t>(std::popcount(emission.touched));
  }
  touched_.resize(most);
  touched_of_.resize(problem.variables.size());
  std::uint32_t* end = touched_.data();
  for (std::size_t v = 0; v < problem.variables.size(); ++v) {
    const Range& states = problem.variables[v];
    std::uint32_t* const begin = end;
    for (std::uint32_t s = states.begin; s < states.end; ++s) {
      const Range& emissions = problem.states[s].emissions;
      for (std::uint32_t e = emissions.begin; e < emissions.end; ++e) {
        const Emission& emission = problem.emissions[e];
        const std::uint32_t first = problem.bits[emission.finding].begin;
        for (std::uint64_t mask = emission.touched; mask != 0; mask &= mask - 1) {
          *end++ = first + static_cast<std::uint32_t>(std::countr_zero(mask));
        }
      }
    }
    if (states.size() > 2) {  // else one state emits, finding after finding: already in order
      std::sort(begin, end);
      end = std::unique(begin, end);
    }
    touched_of_[v] = {static_cast<std::uint32_t>(begin - touched_.data()),
                      static_cast<std::uint32_t>(end - touched_.data())};
  }
  touched_.resize(static_cast<std::size_t>(end - touched_.data()));
  group_of_.assign(problem.bit_count, kNoGroup);
  for (std::uint32_t g = 0; g < problem.groups.size(); ++g) {
    for (const std::uint32_t bit : problem.groups[g].bits) group_of_[bit] = g;
  }
}

Order Scheduler::find_order(std::uint32_t attempt) const {
  const Problem& problem = *problem_;
  std::vector<Class> classes;
  std::map<GroupSet, std::size_t> class_of;
  GroupSet groups(problem.groups.size());
  for (std::uint32_t v = 0; v < problem.variables.size(); ++v) {
    if (!touches_several(v)) continue;
    groups.reset();
    for (std::uint32_t t = touched_of_[v].begin; t < touched_of_[v].end; ++t) {
      groups.set(group_of_[touched_[t]]);
    }
    const auto [known, is_new] = class_of.try_emplace(groups, classes.size());
    if (is_new) classes.push_back({groups, {}});
    classes[known->second].variables.push_back(v);
  }
  return Elimination(problem, std::move(classes), attempt).run();
}

Order Scheduler::extend(const Order& known) const {
  const Problem& problem = *problem_;
  std::vector<std::uint32_t> last(problem.groups.size(), 0);  // 1 + place of its last variable
  std::vector<std::pair<std::uint32_t, std::uint32_t>> placed;
  std::vector<bool> taken(problem.variables.size(), false);
  for (std::uint32_t i = 0; i < known.size(); ++i) {
    const std::uint32_t v = known[i];
    if (v >= problem.causes || !touches_several(v)) continue;  // leaks have other numbers here
    taken[v] = true;
    placed.emplace_back(2 * i, v);
    for (std::uint32_t t = touched_of_[v].begin; t < touched_of_[v].end; ++t) {
      last[group_of_[touched_[t]]] = i + 1;
    }
  }
  for (std::uint32_t v = 0; v < problem.variables.size(); ++v) {
    if (taken[v] || !touches_several(v)) continue;
    std::uint32_t place = 0;
    for (std::uint32_t t = touched_of_[v].begin; t < touched_of_[v].end; ++t) {
      place = std::max(place, last[group_of_[touched_[t]]]);
    }
    placed.emplace_back(place == 0 ? 0 : 2 * place - 1, v);
  }
  std::sort(placed.begin(), placed.end());
  Order order;
  for (const auto& [place, v] : placed) order.push_back(v);
  return order;
}

/// Sorts the variables that touch no bit, or one alone, to where they are taken.
void Scheduler::sort_out(Schedule& out) const {
  const Problem& problem = *problem_;
  out.alone.clear();
  out.merged_of.assign(problem.bit_count, {});
  for (std::uint32_t v = 0; v < problem.variables.size(); ++v) {
    if (touched_of_[v].size() == 0) out.alone.push_back(v);
    if (touched_of_[v].size() == 1) ++out.merged_of[touched_[touched_of_[v].begin]].end;
  }
  std::uint32_t count = 0;
  for (Range& range : out.merged_of) {
    const std::uint32_t mine = range.end;
    range = {count, count};
    count += mine;
  }
  out.merged.resize(count);
  for (std::uint32_t v = 0; v < problem.variables.size(); ++v) {
    if (touched_of_[v].size() != 1) continue;
    out.merged[out.merged_of[touched_[touched_of_[v].begin]].end++] = v;
  }
}

namespace {

/// Writes the steps down and hands out slots as groups open and close.
class Writer {
 public:
  Writer(const Problem& problem, Schedule& out, bool merge)
      : problem_(problem), out_(out), merge_(merge), open_(problem.groups.size(), false) {
    out.steps.clear();
    out.slot.assign(problem.bit_count, 0);
    out.width = 0;
  }

  void open(std::uint32_t g) {
    if (open_[g]) return;
    open_[g] = true;
    const std::uint32_t before = slots_.size();
    for (const std::uint32_t bit : problem_.groups[g].bits) out_.slot[bit] = slots_.take();
    out_.steps.push_back({StepKind::open, g, before, slots_.size()});
    out_.width = std::max(out_.width, slots_.width());
  }

  void apply(std::uint32_t v) {
    out_.steps.push_back({StepKind::apply, v, slots_.size(), slots_.size()});
  }

  void close(std::uint32_t g) {
    for (const std::uint32_t bit : problem_.groups[g].bits) take_merged(bit);
    const std::uint32_t before = slots_.size();
    for (const std::uint32_t bit : problem_.groups[g].bits) slots_.give_back(out_.slot[bit]);
    out_.steps.push_back({StepKind::close, g, before, slots_.size()});
  }

 private:
  void take_merged(std::uint32_t bit) {
    const Range& alike = out_.merged_of[bit];
    if (merge_ && alike.size() > 0) {
      out_.steps.push_back({StepKind::merge, bit, slots_.size(), slots_.size()});
    }
    for (std::uint32_t i = alike.begin; !merge_ && i < alike.end; ++i) apply(out_.merged[i]);
  }

  const Problem& problem_;
  Schedule& out_;
  const bool merge_;
  std::vector<bool> open_;
  Slots slots_;
};

}  // namespace

void Scheduler::lay_out(const Order& order, Schedule& out, bool merge) const {
  const Problem& problem = *problem_;
  sort_out(out);
  std::vector<std::uint32_t> waiting(problem.groups.size(), 0);
  for (const std::uint32_t v : order) {
    for (std::uint32_t t = touched_of_[v].begin; t < touched_of_[v].end; ++t) {
      ++waiting[group_of_[touched_[t]]];
    }
  }
  Writer writer(problem, out, merge);
  for (std::uint32_t g = 0; g < problem.groups.size(); ++g) {
    if (waiting[g] > 0) continue;
    writer.open(g);
    writer.close(g);
  }
  for (const std::uint32_t v : order) {
    for (std::uint32_t t = touched_of_[v].begin; t < touched_of_[v].end; ++t) {
      writer.open(group_of_[touched_[t]]);
    }
    writer.apply(v);
    for (std::uint32_t t = touched_of_[v].begin; t < touched_of_[v].end; ++t) {
      const std::uint32_t g = group_of_[touched_[t]];
      if (--waiting[g] == 0) writer.close(g);
    }
  }
}

}  // namespace tickover::belief
