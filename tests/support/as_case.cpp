#include "tests/support/as_case.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numbers>

namespace tickover::test {
namespace {

using belief::tables::Factor;
using belief::tables::FactorGraph;

/// A finding present just when the cause is.
std::size_t add_copy(belief::Case& given, std::size_t cause) {
  given.network.own().findings.push_back({{0.0}, {{cause, {1.0}}}});
  return given.network->findings.size() - 1;
}

/// The entry of the table for these digits, all variables' one after the other, or 0 when a number
/// is no state.
double entry_for(const Factor& factor, const FactorGraph& graph, const AsCase& one,
                 std::size_t digits) {
  std::size_t index = 0;
  for (const std::size_t v : factor.scope) {
    const std::size_t count = one.causes[v].size();
    const std::size_t state = digits & ((std::size_t{1} << count) - 1);
    if (state >= graph.cardinality[v]) return 0;
    index = index * graph.cardinality[v] + state;
    digits >>= count;
  }
  return factor.values[index];
}

void add_sensor(const Factor& factor, const FactorGraph& graph, AsCase& one) {
  belief::SoftObservation soft;
  for (const std::size_t v : factor.scope) {
    for (const std::size_t cause : one.causes[v]) {
      soft.findings.push_back(add_copy(one.given, cause));
    }
  }
  if (soft.findings.empty()) {
    one.log_scale += std::log(factor.values.front());
    return;
  }
  for (std::size_t digits = 0; digits < std::size_t{1} << soft.findings.size(); ++digits) {
    soft.likelihood.push_back(entry_for(factor, graph, one, digits));
  }
  one.given.soft.push_back(soft);
}

}  // namespace

AsCase as_case(const FactorGraph& graph, const std::vector<belief::tables::Observed>& observed) {
  AsCase one;
  for (const std::size_t states : graph.cardinality) {
    one.causes.emplace_back();
    for (auto left = states - 1; left > 0; left >>= 1) {
      one.causes.back().push_back(one.given.network->causes.size());
      one.given.network.own().causes.push_back({0.5, 0});
      one.log_scale += std::numbers::ln2;
    }
  }
  for (std::size_t v = 0; v < graph.cardinality.size(); ++v) {
    const std::vector<double> plain(graph.cardinality[v], 1);
    if (!std::has_single_bit(graph.cardinality[v])) add_sensor({{v}, plain}, graph, one);
  }
  for (const Factor& factor : graph.factors) add_sensor(factor, graph, one);
  for (const belief::tables::Observed& seen : observed) {
    for (std::size_t digit = 0; digit < one.causes[seen.variable].size(); ++digit) {
      const double present = static_cast<double>(seen.state >> digit & 1);
      one.given.seen.push_back({one.causes[seen.variable][digit], 0, present, 1 - present, 0});
    }
  }
  return one;
}

std::vector<std::size_t> states_of(const AsCase& one, const std::vector<std::size_t>& present) {
  std::vector<std::size_t> states;
  for (const std::vector<std::size_t>& digits : one.causes) {
    std::size_t state = 0;
    for (std::size_t digit = 0; digit < digits.size(); ++digit) {
      if (std::count(present.begin(), present.end(), digits[digit]) > 0)
        state |= std::size_t{1} << digit;
    }
    states.push_back(state);
  }
  return states;
}

}  // namespace tickover::test
