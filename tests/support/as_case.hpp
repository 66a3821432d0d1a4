/// @file
/// Any discrete network as a case of the engine, so that published networks go through the sweep
/// that answers jobs.
#pragma once

#include <vector>

#include "engine/belief/network.hpp"
#include "engine/belief/tables/factor.hpp"

namespace tickover::test {

/// A variable of k states is as many causes of even odds as its number in binary has digits; the
/// state is that number. Each factor is a sensor on findings that copy these causes, with its table
/// as likelihood. Numbers that are no state have likelihood 0.
struct AsCase {
  belief::Case given;
  std::vector<std::vector<std::size_t>> causes;  ///< per variable, its lowest digit first
  double log_scale = 0;  ///< ln of the network's sum = log_evidence(given) + log_scale
};

AsCase as_case(const belief::tables::FactorGraph& graph,
               const std::vector<belief::tables::Observed>& observed);

/// The states of the variables when just these causes are present.
std::vector<std::size_t> states_of(const AsCase& one, const std::vector<std::size_t>& present);

}  // namespace tickover::test
