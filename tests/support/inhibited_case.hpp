/// @file
/// Random diagnosis cases in which findings can be hidden.
#pragma once

#include <cstdint>

#include "engine/belief/network.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::test {

/// Hides links of about half the findings behind one or two of three sets of inhibitors, none of
/// which is linked to the finding itself; sensors of such findings go.
belief::Case with_inhibitors(belief::Case given, Random& random);

/// random_case() with inhibitors. What was seen was drawn without them, and so may be impossible.
belief::Case inhibited_case(std::uint64_t seed);

}  // namespace tickover::test
