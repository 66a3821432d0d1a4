/// @file
/// Two textbook ways to the same marginals, to measure against: written plainly, as a reader of the
/// textbook would, but not wastefully. Binary findings in epoch 0 only.
#pragma once

#include <optional>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::test {

struct Marginals {
  double evidence = 0;          ///< P(e)
  std::vector<double> present;  ///< P(cause | e)
  std::size_t width = 0;        ///< largest clique less one; 0 where there is none
};

/// Quickscore: one term per subset of the present findings, with alternating signs.
/// Source: Heckerman 1989, "A tractable inference algorithm for diagnosing multiple diseases", UAI.
template <class Real>
Marginals quickscore(const belief::Case& given);
extern template Marginals quickscore<double>(const belief::Case&);
extern template Marginals quickscore<long double>(const belief::Case&);
/// With so many digits that what cancels leaves enough: a reference, slow.
Marginals quickscore_in_100_digits(const belief::Case& given);

/// A junction tree over the causes and a chain of noisy ORs for each present finding, triangulated
/// by greedy min-fill; absent findings fold into the causes, unseen ones are left out. Messages up
/// and down the tree. Nothing when its largest table would hold more than 2^`widest` numbers.
/// Source: Koller & Friedman 2009, chapters 9 and 10.
std::optional<Marginals> junction_tree(const belief::Case& given, std::size_t widest = 24);

}  // namespace tickover::test
