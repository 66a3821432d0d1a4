#include "tests/support/random_graph.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <optional>

#include "tests/support/random_case.hpp"

namespace tickover::test {
namespace {

using belief::tables::Factor;
using belief::tables::FactorGraph;
using belief::tables::Observed;

double random_value(Random& random, double sharp) {
  if (random.chance(sharp)) return random.chance(0.5) ? 0 : 1;
  const double kind = random.unit();
  if (kind < 0.02) return 1e-30 * random.unit();
  if (kind < 0.04) return 1e30 * random.unit();
  return random.unit();
}

Factor random_factor(Random& random, const FactorGraph& graph, double sharp) {
  std::vector<std::size_t> all(graph.cardinality.size());
  for (std::size_t v = 0; v < all.size(); ++v) all[v] = v;
  random.shuffle(all);
  all.resize(std::min(all.size(), random.below(5)));
  Factor factor{all, {}};
  std::size_t entries = 1;
  for (const std::size_t v : all) entries *= graph.cardinality[v];
  while (factor.values.size() < entries) factor.values.push_back(random_value(random, sharp));
  return factor;
}

std::size_t index_of(const Factor& factor, const FactorGraph& graph,
                     const std::vector<std::size_t>& states) {
  std::size_t index = 0;
  for (const std::size_t v : factor.scope) index = index * graph.cardinality[v] + states[v];
  return index;
}

/// The next assignment, the first variable fastest; false after the last.
bool advance(std::vector<std::size_t>& states, const std::vector<std::size_t>& cardinality) {
  for (std::size_t v = 0; v < states.size(); ++v) {
    if (++states[v] < cardinality[v]) return true;
    states[v] = 0;
  }
  return false;
}

/// The factor with the variable at position `i` of its scope held at its first state.
Factor without(const Factor& factor, std::size_t i, const FactorGraph& graph) {
  std::size_t step = 1;
  for (std::size_t j = i + 1; j < factor.scope.size(); ++j) {
    step *= graph.cardinality[factor.scope[j]];
  }
  const std::size_t states = graph.cardinality[factor.scope[i]];
  Factor out{factor.scope, {}};
  out.scope.erase(out.scope.begin() + static_cast<std::ptrdiff_t>(i));
  for (std::size_t entry = 0; entry < factor.values.size(); ++entry) {
    if (entry / step % states == 0) out.values.push_back(factor.values[entry]);
  }
  return out;
}

/// Without a variable that nothing speaks of; none when each is spoken of.
std::optional<GraphCase> without_idle_variable(GraphCase one) {
  std::vector<bool> used(one.graph.cardinality.size(), false);
  for (const Factor& factor : one.graph.factors) {
    for (const std::size_t v : factor.scope) used[v] = true;
  }
  for (const Observed& seen : one.observed) used[seen.variable] = true;
  const auto idle = std::find(used.begin(), used.end(), false) - used.begin();
  if (idle == std::ssize(used)) return std::nullopt;
  one.graph.cardinality.erase(one.graph.cardinality.begin() + idle);
  const auto gone = static_cast<std::size_t>(idle);
  for (Factor& factor : one.graph.factors) {
    for (std::size_t& v : factor.scope) v -= v > gone;
  }
  for (Observed& seen : one.observed) seen.variable -= seen.variable > gone;
  return one;
}

template <class T>
std::vector<T> less(std::vector<T> items, std::size_t i) {
  items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
  return items;
}

/// All that are a step smaller.
std::vector<GraphCase> smaller(const GraphCase& one) {
  std::vector<GraphCase> all;
  for (std::size_t f = 0; f < one.graph.factors.size(); ++f) {
    all.push_back({{one.graph.cardinality, less(one.graph.factors, f)}, one.observed});
  }
  for (std::size_t o = 0; o < one.observed.size(); ++o) {
    all.push_back({one.graph, less(one.observed, o)});
  }
  if (auto fewer = without_idle_variable(one)) all.push_back(std::move(*fewer));
  for (std::size_t f = 0; f < one.graph.factors.size(); ++f) {
    const Factor& factor = one.graph.factors[f];
    for (std::size_t i = 0; i < factor.scope.size(); ++i) {
      all.push_back(one);
      all.back().graph.factors[f] = without(factor, i, one.graph);
    }
    for (std::size_t i = 0; i < factor.values.size(); ++i) {
      if (factor.values[i] == 1) continue;
      all.push_back(one);
      all.back().graph.factors[f].values[i] = 1;
    }
  }
  return all;
}

}  // namespace

GraphCase random_graph(std::uint64_t seed) {
  Random random(seed);
  GraphCase one;
  const std::size_t variables = 1 + random.below(8);
  for (std::size_t v = 0; v < variables; ++v) {
    one.graph.cardinality.push_back(random.chance(0.6) ? 2 : 1 + random.below(4));
  }
  const double sharp = random.chance(0.3) ? random.between(0.1, 0.6) : 0;
  for (std::size_t f = random.below(11); f > 0; --f) {
    one.graph.factors.push_back(random_factor(random, one.graph, sharp));
  }
  for (std::size_t o = random.below(4); o > 0; --o) {
    const std::size_t v = random.below(variables);
    one.observed.push_back({v, random.below(one.graph.cardinality[v])});
  }
  return one;
}

long double product_at(const GraphCase& one, const std::vector<std::size_t>& states) {
  for (const Observed& seen : one.observed) {
    if (states[seen.variable] != seen.state) return 0;
  }
  long double product = 1;
  for (const Factor& factor : one.graph.factors) {
    product *= factor.values[index_of(factor, one.graph, states)];
  }
  return product;
}

BruteForce brute_force(const GraphCase& one) {
  BruteForce out;
  for (const std::size_t states : one.graph.cardinality) out.masses.emplace_back(states, 0);
  std::vector<std::size_t> states(one.graph.cardinality.size(), 0);
  do {
    const long double product = product_at(one, states);
    out.total += product;
    out.best = std::max(out.best, product);
    for (std::size_t v = 0; v < states.size(); ++v) out.masses[v][states[v]] += product;
  } while (advance(states, one.graph.cardinality));
  return out;
}

GraphCase shrunk(GraphCase one, const std::function<bool(const GraphCase&)>& fails) {
  while (true) {
    const std::vector<GraphCase> next = smaller(one);
    const auto still = std::find_if(next.begin(), next.end(), fails);
    if (still == next.end()) return one;
    one = *still;
  }
}

std::string in_words(const GraphCase& one) {
  std::string out = fmt::format("cardinality {{{}}}\n", fmt::join(one.graph.cardinality, ", "));
  for (const Factor& factor : one.graph.factors) {
    out += fmt::format("factor {{{{{}}}, {{{}}}}}\n", fmt::join(factor.scope, ", "),
                       fmt::join(factor.values, ", "));
  }
  for (const Observed& seen : one.observed) {
    out += fmt::format("observed {{{}, {}}}\n", seen.variable, seen.state);
  }
  return out;
}

}  // namespace tickover::test
