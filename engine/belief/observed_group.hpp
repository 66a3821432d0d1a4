/// @file
/// P(observations of a few findings | the lives of all causes), straight from the definition: for
/// the enumerator, which must share nothing with the fast way.
#pragma once

#include <set>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// The epochs in which one finding was looked at, by eye or by sensor, ascending.
/// A *course* is the level it shows in each of them, numbered in base levels + 1, first epoch
/// fastest.
struct Watch {
  std::size_t finding = 0;
  std::size_t base = 2;
  std::vector<Epoch> epochs;

  std::size_t courses() const;
  std::size_t level(std::size_t course, Epoch epoch) const;

  /// The course when something produces `level` during `life` on top of what was there, but not in
  /// the epochs of a life in `hidden`.
  std::size_t raised(std::size_t course, std::size_t level, const Life& life,
                     const std::vector<Life>& hidden) const;
};

/// Findings that hang together by soft observations on two of them, with all that was observed of
/// them. A finding that no sensor ties to another is a group of its own.
class ObservedGroup {
 public:
  ObservedGroup(const Case& given, const std::set<std::size_t>& findings);

  /// Whether anything was seen of them.
  bool observed() const;

  /// The causes linked to any of the findings, ascending.
  std::vector<std::size_t> scope() const;

  /// P(observations of these findings | `lived`: one life per cause of the network).
  long double chance(const std::vector<Life>& lived) const;

 private:
  Watch watch(std::size_t finding) const;
  void forbid_unseen(const Watch& watch, std::vector<long double>& chances) const;
  long double sum_courses(const std::vector<std::vector<long double>>& chances,
                          std::vector<std::size_t>& courses) const;
  long double soft_likelihood(const std::vector<std::size_t>& courses) const;

  const Case& given_;
  std::vector<Watch> watches_;
  std::vector<const SoftObservation*> soft_;
};

/// All findings, those tied by soft observations on several of them together.
std::vector<std::set<std::size_t>> tied_findings(const Case& given);

/// A group for each of these.
std::vector<ObservedGroup> observed_groups(const Case& given);

}  // namespace tickover::belief
