/// @file
/// How repairs of one cause add up.
#pragma once

#include <cstddef>
#include <vector>

namespace tickover {

/// Repairs tried at each cause, one after the other. What a repair fails for may last (a deposit
/// that this way of cleaning never reaches): then a further one helps only where it is better than
/// the best so far, as if each fault had a threshold that a repair's success must pass. Or it was
/// the chance of the day: then each repair is a new attempt. With P(chance) = `again`,
///   P(still there after s1..sk) = again * product of (1 - si) + (1 - again) * (1 - max of si).
class Attempts {
 public:
  Attempts() = default;
  /// `again` as of pack::Pack.
  explicit Attempts(double again) : again_(again) {}

  /// P(a repair of this success removes the cause | all before it failed).
  double left(std::size_t cause, double success) const {
    return any(cause) ? left(made_[cause], success) : success;
  }
  /// The same, and the repair is made.
  double make(std::size_t cause, double success);

  bool any(std::size_t cause) const { return best(cause) > 0; }
  /// The most success of those made.
  double best(std::size_t cause) const { return cause < made_.size() ? made_[cause].best : 0; }

  /// What is seen of the cause says why it failed, or it may have come in anew: the next repair
  /// starts afresh.
  void forget(std::size_t cause);
  /// How often that was, of a repaired cause.
  std::size_t forgotten(std::size_t cause) const {
    return cause < made_.size() ? made_[cause].forgotten : 0;
  }

 private:
  struct Made {
    double best = 0, all_fail = 1;
    std::size_t forgotten = 0;
  };
  double kept(const Made& made) const;
  double left(const Made& made, double success) const;

  double again_ = 1;
  std::vector<Made> made_ = {};  ///< per cause, as far as any was repaired
};

}  // namespace tickover
