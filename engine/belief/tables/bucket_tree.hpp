/// @file
/// The tree of messages of variable elimination. Inside belief/tables only.
#pragma once

#include <optional>
#include <vector>

#include "engine/belief/tables/factor.hpp"
#include "engine/belief/tables/order.hpp"

namespace tickover::belief::tables {

/// One variable's turn. Its message is a table over all of `scope` but the variable, which is last.
struct Bucket {
  std::size_t variable = 0;
  std::vector<std::size_t> scope;
  std::vector<std::size_t> factors;   ///< those with no variable taken earlier
  std::vector<std::size_t> children;  ///< buckets whose message is taken here
  std::optional<std::size_t> parent;  ///< where its own message is taken; none when it is a number
};

enum class Combine { sum, maximum };

/// The buckets in the order of elimination, with the messages up (to later buckets) and down.
class BucketTree {
 public:
  BucketTree(const Reduced& reduced, const std::vector<std::size_t>& cardinality,
             const Order& order);

  const std::vector<Bucket>& buckets() const { return buckets_; }

  /// All messages up. The sum (or maximum) over all assignments of the product of all factors.
  Scaled pass_up(Combine how);
  /// After pass_up(sum): all messages down; per bucket P(state of its variable | e).
  std::vector<std::vector<double>> pass_down();
  /// After pass_up(maximum): the state of each bucket's variable in a best assignment.
  std::vector<std::size_t> best_states() const;

 private:
  /// A table that a bucket's product has as a factor, and where in it the assignment at hand lies.
  struct Input {
    const double* values = nullptr;
    std::vector<std::size_t> strides;  ///< per position of the bucket's scope
    std::size_t index = 0;
  };
  using Sums = std::vector<long double>;

  std::vector<std::size_t> separator(const Bucket& bucket) const;
  std::vector<Input> inputs(const Bucket& bucket) const;
  template <class Visit>
  void each_assignment(const Bucket& bucket, std::vector<Input>& inputs, Visit visit) const;
  void send_up(std::size_t b, Combine how);
  std::vector<double> send_down(std::size_t b);
  int store(const Sums& sums, std::vector<double>& message) const;

  const Reduced& reduced_;
  const std::vector<std::size_t>& cardinality_;
  std::vector<Bucket> buckets_;
  std::vector<std::vector<double>> up_, down_;  ///< per bucket; largest entry in [0.5, 1)
  Scaled total_;
};

}  // namespace tickover::belief::tables
