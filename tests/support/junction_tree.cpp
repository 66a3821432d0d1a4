#include <algorithm>
#include <bit>
#include <cstdint>
#include <set>

#include "tests/support/yardsticks.hpp"

namespace tickover::test {
namespace {

using namespace belief;
using Variable = std::size_t;

/// A table over binary variables, ascending; bit i of an index is the state of variables[i].
struct Potential {
  std::vector<Variable> variables;
  std::vector<double> values;
};

/// Where each entry of a table over `of` lies in a table over `in`, a subset.
std::vector<std::uint32_t> projection(const std::vector<Variable>& of,
                                      const std::vector<Variable>& in) {
  std::vector<std::uint32_t> bit(of.size(), 0);
  for (std::size_t i = 0; i < of.size(); ++i) {
    const auto at = std::lower_bound(in.begin(), in.end(), of[i]);
    if (at != in.end() && *at == of[i]) bit[i] = std::uint32_t{1} << (at - in.begin());
  }
  std::vector<std::uint32_t> places(std::size_t{1} << of.size(), 0);
  for (std::size_t t = 1; t < places.size(); ++t) {
    places[t] = places[t & (t - 1)] | bit[static_cast<std::size_t>(std::countr_zero(t))];
  }
  return places;
}

void multiply(Potential& into, const Potential& by) {
  const auto places = projection(into.variables, by.variables);
  for (std::size_t t = 0; t < places.size(); ++t) into.values[t] *= by.values[places[t]];
}

Potential sum_onto(const Potential& from, const std::vector<Variable>& variables) {
  Potential out{variables, std::vector<double>(std::size_t{1} << variables.size(), 0)};
  const auto places = projection(from.variables, variables);
  for (std::size_t t = 0; t < places.size(); ++t) out.values[places[t]] += from.values[t];
  return out;
}

/// The network as factors. Variables below the number of causes are the causes.
struct Factors {
  std::size_t variables = 0;
  std::vector<Potential> all;
  double scale = 1;
};

/// One step of a chain: `now` = `before` or what the cause produces with `strength`.
Potential chain_link(Variable before, Variable cause, Variable now, double strength) {
  Potential factor{{before, cause, now}, std::vector<double>(8, 0)};
  std::sort(factor.variables.begin(), factor.variables.end());
  const auto at = [&](Variable v) {
    return std::find(factor.variables.begin(), factor.variables.end(), v) -
           factor.variables.begin();
  };
  for (std::size_t t = 0; t < 8; ++t) {
    const bool was = t >> at(before) & 1, present = t >> at(cause) & 1, is = t >> at(now) & 1;
    const double on = was ? 1 : present ? strength : 0;
    factor.values[t] = is ? on : 1 - on;
  }
  return factor;
}

Factors factors_of(const Case& given) {
  Factors out;
  out.variables = given.network->causes.size();
  for (Variable c = 0; c < out.variables; ++c) {
    const double prior = given.network->causes[c].prior;
    out.all.push_back({{c}, {1 - prior, prior}});
  }
  for (const LevelObservation& seen : given.levels) {
    const Finding& finding = given.network->findings[seen.finding];
    const double leak = finding.leak.front();
    if (seen.level == 0) {
      out.scale *= 1 - leak;
      for (const Link& link : finding.links) {
        out.all[link.cause].values[1] *= 1 - link.strength.front();
      }
      continue;
    }
    Variable before = out.variables++;
    out.all.push_back({{before}, {1 - leak, leak}});
    for (const Link& link : finding.links) {
      const Variable now = out.variables++;
      out.all.push_back(chain_link(before, link.cause, now, link.strength.front()));
      before = now;
    }
    out.all.push_back({{before}, {0, 1}});
  }
  return out;
}

/// Cliques in the order of elimination by min-fill: each variable with its neighbours then.
std::vector<std::vector<Variable>> cliques_of(const Factors& factors, std::size_t widest,
                                              std::vector<Variable>& order) {
  std::vector<std::set<Variable>> near(factors.variables);
  for (const Potential& factor : factors.all) {
    for (const Variable a : factor.variables) {
      for (const Variable b : factor.variables) {
        if (a != b) near[a].insert(b);
      }
    }
  }
  const auto fill = [&](Variable v) {
    std::size_t missing = 0;
    for (auto a = near[v].begin(); a != near[v].end(); ++a) {
      for (auto b = std::next(a); b != near[v].end(); ++b) missing += near[*a].count(*b) == 0;
    }
    return missing;
  };
  std::vector<std::size_t> fills(factors.variables);
  for (Variable v = 0; v < factors.variables; ++v) fills[v] = fill(v);
  std::set<Variable> left;
  for (Variable v = 0; v < factors.variables; ++v) left.insert(left.end(), v);
  std::vector<std::vector<Variable>> cliques;
  while (!left.empty()) {
    const Variable v = *std::min_element(left.begin(), left.end(), [&](Variable a, Variable b) {
      return std::pair(fills[a], near[a].size()) < std::pair(fills[b], near[b].size());
    });
    std::vector<Variable> clique(near[v].begin(), near[v].end());
    clique.insert(std::lower_bound(clique.begin(), clique.end(), v), v);
    if (clique.size() > widest) return {};
    std::set<Variable> touched(near[v].begin(), near[v].end());
    for (const Variable a : near[v]) {
      for (const Variable b : near[v]) {
        if (a != b) near[a].insert(b);
      }
      near[a].erase(v);
      touched.insert(near[a].begin(), near[a].end());
    }
    for (const Variable a : touched) fills[a] = fill(a);
    left.erase(v);
    order.push_back(v);
    cliques.push_back(std::move(clique));
  }
  return cliques;
}

}  // namespace

std::optional<Marginals> junction_tree(const Case& given, std::size_t widest) {
  const Factors factors = factors_of(given);
  std::vector<Variable> order;
  const auto cliques = cliques_of(factors, widest, order);
  if (cliques.empty()) return {};
  const std::size_t count = cliques.size();
  std::vector<std::size_t> place(factors.variables);
  for (std::size_t i = 0; i < count; ++i) place[order[i]] = i;
  const auto first_of = [&](const std::vector<Variable>& variables) {
    std::size_t first = count;
    for (const Variable v : variables) first = std::min(first, place[v]);
    return first;
  };
  Marginals out{factors.scale, {}, 0};
  std::vector<Potential> belief;
  for (const auto& clique : cliques) {
    out.width = std::max(out.width, clique.size() - 1);
    belief.push_back({clique, std::vector<double>(std::size_t{1} << clique.size(), 1)});
  }
  for (const Potential& factor : factors.all) multiply(belief[first_of(factor.variables)], factor);
  std::vector<Potential> up(count);
  std::vector<std::size_t> parent(count, count);
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<Variable> rest = cliques[i];
    std::erase(rest, order[i]);
    up[i] = sum_onto(belief[i], rest);
    parent[i] = first_of(rest);
    if (parent[i] == count) {
      out.evidence *= up[i].values.front();
    } else {
      multiply(belief[parent[i]], up[i]);
    }
  }
  for (std::size_t i = count; i-- > 0;) {  // Hugin: what comes down, over what went up
    if (parent[i] == count) continue;
    Potential down = sum_onto(belief[parent[i]], up[i].variables);
    for (std::size_t t = 0; t < down.values.size(); ++t) {
      down.values[t] = up[i].values[t] > 0 ? down.values[t] / up[i].values[t] : 0;
    }
    multiply(belief[i], down);
  }
  for (Variable c = 0; c < given.network->causes.size(); ++c) {
    const Potential one = sum_onto(belief[place[c]], {c});
    out.present.push_back(one.values[1] / (one.values[0] + one.values[1]));
  }
  return out;
}

}  // namespace tickover::test
