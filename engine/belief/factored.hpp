/// @file
/// A finding bounded by a factor per cause. Inside belief only; see bounds.hpp.
#pragma once

#include <optional>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// What is known of causes in a part of a case: presence for sure, cause by cause and epoch by
/// epoch.
using Known = std::vector<CauseObservation>;

/// Whether the cause is present in that epoch, where that is known.
std::optional<bool> known_present(const Known& known, std::size_t cause, Epoch epoch);

/// exp(log_constant) times, for every cause present in `epoch`, its factor `present`, and for every
/// one absent its factor `absent`.
struct Factored {
  double log_constant = 0;
  std::vector<CauseObservation> factors;
};

/// One look at a finding, P(level seen | lives of the causes), between two products of factors.
///
/// With no inhibitor in question it is the product of P(no level above | each source), and, for a
/// level above 0, 1 - exp(-z) with z = sum of -ln(1 - strength) over the sources present. Where an
/// inhibitor is known to be present what it hides drops out; where it is known to be absent the
/// link is as any other. Where that is not known only `above` holds: hiding makes "present" less
/// probable, so all links count there, and "no level above" more probable, so only links count that
/// nothing can hide. P(all looks at a finding) is at most P(one of them), whatever ties them.
class Look {
 public:
  Look(const Case& given, const LevelObservation& seen, const Known& known);

  /// Whether `below` holds and both are this look's alone: no inhibitor in question, and a leak
  /// that neither fades nor comes again.
  bool plain() const { return plain_; }
  /// `present` are rough P(cause present): any will do, good ones make the bounds close.
  Factored above(const std::vector<double>& present) const;
  /// log_constant is -infinity where nothing can be known to produce the finding.
  Factored below(const std::vector<double>& present) const;
  /// The causes not known, with how much each matters: its share of z.
  const std::vector<std::pair<std::size_t, double>>& open() const { return open_; }

 private:
  void take_leak(const Case& given, const Known& known);
  void take_link(const Link& link, const Known& known);
  Factored exact_part() const { return {log_bar_, bars_}; }
  Factored only_cause(std::size_t i) const;
  Factored shared_out(const std::vector<double>& present) const;

  LevelObservation seen_;
  bool plain_ = true;
  double base_ = 0;  ///< z of leak and causes known to be present
  std::vector<std::pair<std::size_t, double>> open_;
  Known bars_;          ///< P(no level above the one seen), for every cause
  double log_bar_ = 0;  ///< the same of the leak
};

/// ln of the mean of these factors, were the causes independent with these P(present).
double log_mean(const Factored& factored, const std::vector<double>& present);

}  // namespace tickover::belief
