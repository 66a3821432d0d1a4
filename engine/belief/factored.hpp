/// @file
/// A finding seen present, bounded by a factor per cause. Inside belief only; see bounds.hpp.
#pragma once

#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// exp(log_constant) times, for every cause present in `epoch`, its factor.
struct Factored {
  double log_constant = 0;
  std::vector<CauseObservation> factors;
};

/// The one observation of a finding, where bounds by factors are known for it.
class PresentFinding {
 public:
  /// Whether the finding was seen once, present, with a leak that neither fades nor comes again,
  /// and nothing can hide it.
  static bool fits(const Case& given, std::size_t finding);
  /// `fixed` are causes known to be present or absent in Case::now.
  PresentFinding(const Case& given, std::size_t finding,
                 const std::vector<CauseObservation>& fixed);

  /// `present` are rough P(cause present): any will do, good ones make the bounds close.
  Factored above(const std::vector<double>& present) const;
  /// log_constant is -infinity where nothing is known to produce the finding.
  Factored below(const std::vector<double>& present) const;
  /// How much each cause not fixed matters: its share of z, at most 3. Pairs with the cause.
  const std::vector<std::pair<std::size_t, double>>& open() const { return open_; }

 private:
  Factored exact_part() const;

  Epoch epoch_ = 0;
  double base_ = 0;  ///< z of leak and causes known to be present
  std::vector<std::pair<std::size_t, double>> open_;
  std::vector<CauseObservation> bars_;  ///< P(no level above the one seen), for every cause
  double log_bar_ = 0;                  ///< the same of the leak
};

}  // namespace tickover::belief
