/// @file
/// Proven bounds where a case is too wide to be swept whole: never looser with more time.
///
/// Findings set aside get, in place of their bits, one factor per cause above what they can be and
/// one below it, so that a sweep of the narrow rest bounds every mass. A present finding is
/// 1 - exp(-z), where z = leak and links of the causes present, each -ln(1 - strength), added up.
/// Its logarithm is concave in z: a tangent lies above it, and, split over the causes by Jensen's
/// inequality, a sum lies below. Source: Jaakkola & Jordan 1999, JAIR 10:291-322, for noisy-OR.
/// Time tightens them: the case is split by how a cause lived, and the parts' masses add up. In a
/// part the cause is known: each of its links produces by itself, so it ties no findings together
/// any more, the part is narrower, and fewer findings are set aside (cutset conditioning, Pearl
/// 1988, section 4.4.1). An inhibitor known makes a finding it may hide an ordinary one, and
/// findings of which all causes are known are exact (set_aside.hpp). So for every kind of finding
/// the bounds meet when all causes are known, if not before.
#pragma once

#include <memory>
#include <vector>

#include "engine/belief/network.hpp"
#include "engine/belief/scaled.hpp"

namespace tickover::belief {

class Prepared;

/// Bounds on the masses of a part of a case.
struct PartBounds {
  struct Side {
    std::vector<Scaled> present, absent;  ///< per cause, in Case::now
    std::vector<double> spread;           ///< per cause: P(two draws of how it lived differ)
    Scaled all;
  };
  std::vector<CauseObservation> fixed;  ///< what makes it a part
  Side low, high;
  std::size_t split = 0;  ///< the cause whose knowledge promises most
  bool settled = false;   ///< no split promises anything
};

class Bounding {
 public:
  /// Sweeps have at most `widest` bits. The first bounds are there at once. `given` must stay.
  explicit Bounding(const Case& given, std::size_t widest = 12);
  ~Bounding();

  /// Splits the part whose bounds are furthest apart: a few sweeps. False when nothing is left to
  /// do.
  bool refine();

  /// Bounds on P(cause present now | e), one per cause.
  const std::vector<double>& low() const { return low_; }
  const std::vector<double>& high() const { return high_; }
  /// Natural logs of bounds on P(e).
  double log_evidence_low() const { return log_low_; }
  double log_evidence_high() const { return log_high_; }

 private:
  void add(std::vector<CauseObservation> fixed);
  void take_stock();

  const Case& given_;
  const std::size_t widest_;
  std::unique_ptr<Prepared> ready_;
  std::vector<PartBounds> parts_;
  std::vector<double> low_, high_;
  double log_low_, log_high_;
};

}  // namespace tickover::belief
