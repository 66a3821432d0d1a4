/// @file
/// Findings that a sweep leaves out, between two products of factors. Inside belief only; see
/// bounds.hpp.
#pragma once

#include <vector>

#include "engine/belief/factored.hpp"

namespace tickover::belief {

/// The rest of a case, times factors that lie above what was set aside, and below it.
struct Sides {
  Case high, low;
  double log_high = 0, log_low = 0;
};

/// What is bounded how:
/// - Findings of which every cause and inhibitor is known: exactly, by a sweep of their own, for
///   then their observations depend on nothing else. Sensors must look at such findings alone.
/// - One look, no inhibitor in question: by factors on both sides (Look).
/// - Any other looks: from above by the best of them, from below by a constant that holds whatever
///   the causes did. As causes get known these become the others, so the bounds meet in the end.
/// - Sensors: between the least and the most they may say.
class SetAside {
 public:
  /// `findings` ascending; `known` tells of a cause in every epoch or in none.
  SetAside(const Case& given, const std::vector<std::size_t>& findings, const Known& known);

  /// The case without them, and without what sensors tie to them.
  const Case& rest() const { return rest_; }
  /// All findings that it holds nothing of, ascending.
  const std::vector<std::size_t>& left_out() const { return left_out_; }
  /// Natural log of what they can multiply the rest by at most.
  double log_most() const { return log_exact_ + log_sensors_high_; }
  /// `present` as in Look.
  Sides sides(const std::vector<double>& present) const;
  /// Per cause, how much knowing it would say about them. `spread` is how little is known of it.
  std::vector<double> promise(const std::vector<double>& spread) const;

 private:
  std::vector<Look> looks_at(std::size_t finding) const;
  bool all_known(std::size_t finding) const;
  void find_exact();
  void bound_sensors();
  double least_of_levels(std::size_t finding) const;
  bool is_open(std::size_t finding) const;

  const Case& given_;
  const Known& known_;
  Case rest_;
  std::vector<std::size_t> left_out_;
  std::vector<std::size_t> open_;  ///< those bounded, ascending
  double log_exact_ = 0;           ///< of all others
  double log_sensors_low_ = 0, log_sensors_high_ = 0;
};

}  // namespace tickover::belief
