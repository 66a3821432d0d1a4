/// @file
/// Networks that are printed in books and articles, with answers.
#pragma once

#include <string>
#include <vector>

#include "engine/belief/tables/factor.hpp"

namespace tickover::test {

/// One question to a network of tests/outside/networks, and its answers.
struct Published {
  std::string network;
  std::vector<belief::tables::Observed> observed;
  double evidence = 0;  ///< P(observed)
  /// P(variable in that state | observed)
  struct Marginal {
    std::size_t variable, state;
    double probability;
  };
  std::vector<Marginal> marginals;
  double digits = 0;  ///< how far each answer may be off, by its printed digits
  /// Where the most probable assignment is known: its states, and P(states, observed).
  std::vector<std::size_t> best = {};
  double best_probability = 0;
};

/// Sources stand beside the networks in the .cpp.
const std::vector<Published>& published();

belief::tables::FactorGraph published_network(const std::string& name);

}  // namespace tickover::test
