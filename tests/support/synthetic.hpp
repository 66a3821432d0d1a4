/// @file
/// Made-up networks of the size of a full pack, for benchmarks and studies: causes and findings of
/// single cylinders, alike at each, and those of the whole engine.
#pragma once

#include "engine/belief/network.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::test {

/// How causes and findings hang together.
enum class Links {
  dense,     ///< findings of the engine with every cause, those of a cylinder with all its causes
  sparse,    ///< each pair linked with a chance as in the shipped pack
  crossing,  ///< as sparse, and findings of a cylinder with about one cause of the engine each
};

struct SyntheticShape {
  std::size_t cylinders = 4;
  std::size_t causes_of_cylinder = 15, causes_of_engine = 25;
  std::size_t findings_of_cylinder = 25, findings_of_engine = 30;
  Links links = Links::dense;

  std::size_t causes() const { return causes_of_engine + cylinders * causes_of_cylinder; }
  std::size_t findings() const { return findings_of_engine + cylinders * findings_of_cylinder; }
};

/// Findings of the engine come first, then those of each cylinder; causes likewise. A finding or
/// cause of a cylinder has the same numbers at each.
belief::Network synthetic_network(Random& random, const SyntheticShape& shape);

/// How many findings are seen, chosen by chance.
struct SyntheticEvidence {
  std::size_t present_of_engine = 4, present_of_cylinder = 2, absent = 40;
};

belief::Case synthetic_case(std::uint64_t seed, const SyntheticShape& shape,
                            const SyntheticEvidence& evidence);

/// The network with what one run of it shows of `seen` findings (all by default).
belief::Case sampled_case(Random& random, const belief::Network& network,
                          std::size_t seen = static_cast<std::size_t>(-1));

/// Findings seen present.
std::size_t present_in(const belief::Case& given);

}  // namespace tickover::test
