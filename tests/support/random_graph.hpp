/// @file
/// Random discrete networks for property tests, the slow obvious answer to them, and making a
/// failing one small.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "engine/belief/tables/factor.hpp"

namespace tickover::test {

/// A network and what is known of it.
struct GraphCase {
  belief::tables::FactorGraph graph;
  std::vector<belief::tables::Observed> observed;
};

/// Up to 8 variables of 1 to 4 states, up to 10 factors of up to 4 variables; sparse or dense,
/// with zeros and ones, tiny and huge values, some factors without any variable; a few impossible.
GraphCase random_graph(std::uint64_t seed);

/// Every assignment, one by one, in long double.
struct BruteForce {
  long double total = 0;
  std::vector<std::vector<long double>> masses;  ///< [variable][state], not divided by the total
  long double best = 0;                          ///< of one assignment
};
BruteForce brute_force(const GraphCase& one);
/// The product of all factors there; 0 when it contradicts what is known.
long double product_at(const GraphCase& one, const std::vector<std::size_t>& states);

/// As long as `fails` still holds: leaves out factors and observations, makes tables plain and
/// scopes shorter, and drops what is then no longer used.
GraphCase shrunk(GraphCase one, const std::function<bool(const GraphCase&)>& fails);

/// In a form that can be pasted into a test.
std::string in_words(const GraphCase& one);

}  // namespace tickover::test
