/// @file
/// The bench sheet: every reading that the machine can give, wanted, taken and still to be taken.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis.hpp"
#include "engine/evidence/reading.hpp"

namespace tickover {

/// What a reading speaks for: a cause that can move it.
struct Speaks {
  std::size_t cause = 0;  ///< index into Model::causes
  double decibans = 0;    ///< weight of the whole entry, given all earlier ones
};

/// A reading taken. As left: a repair of something that moves it came before.
struct BenchReading {
  Observation seen;
  bool as_left = false;
  Verdict verdict;
  std::vector<Speaks> speaks;  ///< strongest first, either way, at least kLeastDecibans
};

/// One reading at one place.
struct BenchPlace {
  std::size_t finding = 0;  ///< index into Model::findings
  Place place;
  std::vector<BenchReading> taken;  ///< in order of entry
  bool told = false;                ///< a fuller reading tells it
};

/// One kind of reading.
struct BenchLine {
  std::size_t finding = 0;          ///< index into pack.findings
  std::vector<std::size_t> checks;  ///< by which it is taken, indices into pack.checks
  std::vector<BenchPlace> places;

  bool touched() const {
    return std::any_of(places.begin(), places.end(),
                       [](const BenchPlace& place) { return !place.taken.empty(); });
  }
};

/// Weights smaller than this are not told. Unit: decibans.
constexpr double kLeastDecibans = 0.5;

/// In the order of the pack. A reading is weighed for the causes that can move it: as found for
/// being there at the start, as left for being there still.
std::vector<BenchLine> make_bench(const Diagnosis& job);

}  // namespace tickover
