/// @file
/// Pieces of small random packs.
#pragma once

#include "tests/support/random_case.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::test {

/// A whole number of minutes from `least` to `most`.
double whole_minutes(Random& random, double least, double most);

/// A layer to be opened first, or none.
std::vector<std::size_t> random_access(Random& random, const SmallPack& small);

/// Two symptoms; the first can be produced by every cause.
void add_symptoms(Random& random, SmallPack& small);

}  // namespace tickover::test
