/// @file
/// A job read as a second mechanic would: is what was found the whole story, and what was left.
#pragma once

#include <optional>
#include <vector>

#include "engine/trail/trail.hpp"

namespace tickover {

/// A symptom of the complaint, and whether what was found accounts for it.
struct Accounted {
  std::size_t finding = 0;  ///< index into Model::findings
  double explained = 0;     ///< P(it would be gone without the causes found), before any repair
};

/// A check that nobody did, though it was worth its time before the first repair.
struct SkippedCheck {
  std::size_t check = 0;  ///< index into pack.checks
  std::vector<Place> places;
  double minutes = 0;  ///< with opening and closing
  double spares = 0;   ///< on average, against going on without it
};

/// A repair that hardly met anything.
struct Needless {
  std::size_t entry = 0;
  std::size_t repair = 0;  ///< index into pack.repairs
  double met = 0;          ///< P(something that it removes was there as found), at most
};

struct Review {
  std::vector<std::size_t> found;    ///< causes repaired and in question still as found, confirmed
                                     ///< as found, or named at the end; ascending
  std::vector<Standing> in_doubt;    ///< named at the end, and as found below kInQuestion
  std::vector<Needless> needless;    ///< `met` below kInQuestion by all that is known now; none
                                     ///< told where something newly appeared
  std::vector<Accounted> complaint;  ///< told before the first repair, by finding
  std::optional<double> cured;       ///< P(complaint gone) of all repairs, before it was run; none
                                     ///< when nothing was repaired
  bool verified = false;             ///< the last repair was followed by a verification
  bool finished = false;
  std::vector<BenchValue> left_beyond;      ///< the last reading at its place is out of limits
  std::vector<BenchValue> without_as_left;  ///< out of limits, repaired, not measured again
  std::vector<SkippedCheck> skipped;        ///< most spared first, at most three
};

/// `job` must have a complaint. Everything is judged from what was known at the time: the complaint
/// and the checks before the first repair, P(cured) after the last.
Review make_review(const Diagnosis& job, const Journal& journal);

}  // namespace tickover
