/// @file
/// A case compiled for the coverage recursion: variables that emit accumulator bits.
/// Inside belief only.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// With probability `weight` exactly the bits of `mask` are covered: bit i of the mask is the bit
/// Problem::bits_of[finding][i].
struct Alternative {
  double weight = 0;
  std::uint32_t mask = 0;
};

/// What one variable in one state contributes to one finding's bits. Weights may sum to less than
/// 1: the rest is ruled out by an observation.
struct Emission {
  std::size_t finding = 0;
  std::vector<Alternative> alternatives;
};

struct State {
  Life life;
  double weight = 0;  ///< prior, local likelihood, and silence on absent findings
  std::vector<Emission> emissions;
};

using States = std::vector<State>;

/// A cause (index below Problem::causes) or a leak.
struct Variable {
  States states;
  States removed;  ///< the states if it is removed for certain before the prospect
};

/// Bits that are closed together: the weight of each combination (bit i of the index = bits[i]).
struct Group {
  std::vector<std::size_t> bits;
  std::vector<double> table;
};

/// The variables to be multiplied together, and the groups that close them.
struct Problem {
  std::size_t causes = 0;
  std::vector<Variable> variables;
  std::vector<Group> groups;
  std::size_t bit_count = 0;
  std::vector<std::vector<std::size_t>> bits_of;  ///< per finding: ids of its bits
  double log_scale = 0;  ///< natural log of the factor taken out of the weights
};

/// Compiles. With `absent`, one more observation is that these findings do not show in epoch now +
/// 1, and every cause gets its `removed` states. Findings listed in `set_aside` (sorted) are left
/// out as if not observed.
Problem compile(const Case& given, const std::vector<std::size_t>* absent = nullptr,
                const std::vector<std::size_t>& set_aside = {});

}  // namespace tickover::belief
