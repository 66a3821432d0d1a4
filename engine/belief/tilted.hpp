/// @file
/// A case too wide, narrowed so that draws of it stay near the whole one. Inside belief only.
#pragma once

#include <vector>

#include "engine/belief/factored.hpp"
#include "engine/belief/given_lives.hpp"
#include "engine/belief/infer.hpp"

namespace tickover::belief {

/// The rest of a case and, in place of each finding set aside, one factor per cause above what it
/// can be: the tangent of bounds.hpp that promises the least mass (Jaakkola & Jordan 1999). Drawn
/// from, it proposes what those findings speak for; what they truly say divided by these factors
/// weighs the draws, and is bounded.
struct Tilted {
  Case rest;
  std::vector<std::size_t> set_aside;  ///< ascending; with what sensors tie to them
  Known factors;                       ///< in `rest` already; of causes absent they are 1

  /// What the factors make of causes that lived so: a product.
  double tilt(const Lived& lived) const;
};

/// `set_aside` ascending. `present` are rough P(cause present): any will do, good ones make draws
/// that say more.
Tilted tilted(const Case& given, const std::vector<std::size_t>& set_aside,
              const std::vector<double>& present);

/// As infer(), in sweeps of at most `widest` bits: where that is too few, a rough one, tilted
/// towards the findings set aside.
Belief rough_belief(const Case& given, std::size_t widest);

}  // namespace tickover::belief
