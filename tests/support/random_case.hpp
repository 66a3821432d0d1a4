/// @file
/// Random diagnosis cases for property tests. Same seed, same case, on every machine.
#pragma once

#include <cstdint>
#include <random>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::test {

/// Draws by own rules from a generator the standard fixes to the bit; the standard leaves what its
/// distributions return open.
class Random {
 public:
  explicit Random(std::uint64_t seed) : bits_(seed) {}

  std::uint64_t bits() { return bits_(); }
  double unit() { return static_cast<double>(bits() >> 11) * 0x1p-53; }  ///< in [0, 1)
  double between(double low, double high) { return low + (high - low) * unit(); }
  bool chance(double probability) { return unit() < probability; }
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(bits() % count); }

  template <class T>
  void shuffle(std::vector<T>& items) {
    for (std::size_t i = items.size(); i > 1; --i) std::swap(items[i - 1], items[below(i)]);
  }

 private:
  std::mt19937_64 bits_;
};

/// A network and evidence on it, small enough to enumerate. About half the seeds give one epoch
/// with up to 12 causes, the others up to 3 repairs with fewer causes. The evidence is drawn by
/// simulating the model, and so possible; a few seeds spoil it, and some of those make it
/// impossible.
belief::Case random_case(std::uint64_t seed);

/// Ten causes, each linked to all of `present` binary findings with small leaks, all seen present:
/// no order of the causes keeps it narrow.
belief::Case wide_case(Random& random, std::size_t present);

/// The number of combinations of lives.
double combinations(const belief::Case& given);

/// A repair somebody might make, and the findings that should be gone after it.
struct Repair {
  std::vector<std::size_t> findings;
  std::vector<belief::Removal> removals;
};
Repair random_repair(Random& random, const belief::Case& given);

/// What the model did in one run: a life per cause and the level of each finding in each epoch.
struct World {
  std::vector<belief::Life> lives;
  std::vector<std::vector<std::size_t>> level;  ///< [finding][epoch], epochs 0 .. now
};

/// One run of the model; observations in `given` are ignored.
World simulate(Random& random, const belief::Case& given);

}  // namespace tickover::test
