/// @file
/// Solvers that are not ours, for comparison: toulbar2 (Debian package) and bayesjs (npm), both
/// installed by .ci/setup when TICKOVER_OUTSIDE=required. They read what engine/uai writes.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/belief/tables/factor.hpp"

namespace tickover::test {

/// Whether it is installed. A test that goes on without it says so; with TICKOVER_OUTSIDE=required,
/// as in CI, it fails.
bool have_toulbar2();
bool have_bayesjs();

struct OutsideNetwork {
  belief::tables::FactorGraph graph;
  std::vector<belief::tables::Observed> observed;
};

/// toulbar2's most probable assignment and ln P(it, observed), from costs with ten digits.
struct OutsideBest {
  double log_probability = 0;
  std::vector<std::size_t> states;
};
OutsideBest toulbar2_best(const OutsideNetwork& one);

/// toulbar2's ln P(observed). It prints three decimals: it is asked for `copies` disjoint copies of
/// the network at once, which adds log10(copies) decimals; -p=8 has it sum out what is narrow
/// first, without which the copies multiply its search. NaN when it has none in `seconds`.
double toulbar2_log_evidence(const OutsideNetwork& one, std::size_t copies, int seconds = 10);

/// bayesjs's answers, from one run for all networks.
struct OutsideAnswer {
  std::optional<double> evidence;              ///< by its variable elimination, up to 8 variables
  std::vector<std::vector<double>> marginals;  ///< by its junction tree
  double milliseconds = 0;
};
std::vector<OutsideAnswer> bayesjs(const std::vector<OutsideNetwork>& networks);

}  // namespace tickover::test
