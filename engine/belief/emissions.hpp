/// @file
/// What the emissions of a state make of a vector over coverage states, one after the other, for
/// drawing backwards through them. Inside belief only.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/belief/coverage.hpp"
#include "engine/belief/problem.hpp"
#include "engine/belief/schedule.hpp"

namespace tickover::belief {

/// What a draw did to each of the emissions of its state: bits as in Problem::alternatives.
using Masks = std::vector<std::uint64_t>;

/// What an emission may cover, by slots and by bits as in Problem::alternatives.
struct Emitted {
  std::vector<Cover> covers;  ///< none: it covers nothing any more
  Masks masks;
  OneBit one;  ///< all of it, where `bit` is not 0
  bool known = false;
};

/// The vectors before the first emission of a state, between them, and after the last: laid out, or
/// entry by entry where few are asked for.
struct Chain {
  const State* state = nullptr;
  const std::vector<double>* before = nullptr;
  std::vector<std::vector<double>> after = {};
};

class Emissions {
 public:
  /// Both must stay.
  Emissions(const Problem& problem, const Schedule& schedule)
      : problem_(problem), schedule_(schedule), emitted_(problem.emissions.size()) {}

  const Emitted& of(std::uint32_t emission);
  /// What all emissions of the state make of `v`; in `room` unless it has none.
  const std::vector<double>& emitted(const State& state, const std::vector<double>& v,
                                     std::vector<double>& room);

  /// `before` must stay; about `asked` coverage states will be asked for.
  Chain chain(const State& state, const std::vector<double>& before, std::size_t asked);
  /// The entry `bits` of the vector after `count` emissions.
  double entry(const Chain& chain, std::size_t count, std::uint32_t bits);
  /// The same after all of them.
  double last(const Chain& chain, std::uint32_t bits) {
    return entry(chain, chain.state->emissions.size(), bits);
  }

 private:
  void emit(std::uint32_t emission, std::vector<double>& v);
  bool few_entries(const State& state, std::size_t size, std::size_t asked) const;

  const Problem& problem_;
  const Schedule& schedule_;
  std::vector<Emitted> emitted_;  ///< per emission, as far as asked for
  std::vector<OneBit> ones_;      ///< of one state
};

}  // namespace tickover::belief
