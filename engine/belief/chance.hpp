/// @file
/// Random choices from one stream. Inside belief only.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

#include "engine/foundation/random.hpp"

namespace tickover::belief {

/// What a drawing decides by.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : stream_(seed) {}
  double unit() { return stream_.next(); }
  std::size_t below(std::size_t count) {
    return std::min(static_cast<std::size_t>(unit() * static_cast<double>(count)), count - 1);
  }
  /// Index in proportion to `weights`.
  std::size_t pick(const std::vector<double>& weights) {
    double sum = 0;
    for (const double weight : weights) sum += weight;
    double left = unit() * sum;
    std::size_t last = 0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
      if (!(weights[i] > 0)) continue;
      last = i;
      if (left < weights[i]) return i;
      left -= weights[i];
    }
    return last;
  }
  /// How many of `count` go to each, as its weight is due, to within one. Known until the next.
  const std::vector<std::size_t>& split(std::size_t count, const std::vector<double>& weights) {
    double sum = 0, so_far = 0;
    for (const double weight : weights) sum += weight;
    const double offset = unit();
    std::vector<std::size_t>& shares = shares_;
    shares.clear();
    std::size_t given = 0;
    for (const double weight : weights) {
      so_far += weight;
      const double due = std::floor(so_far / sum * static_cast<double>(count) + offset);
      const std::size_t until = std::min(static_cast<std::size_t>(due), count);
      shares.push_back(until - given);
      given = until;
    }
    for (std::size_t i = shares.size(); given < count && i-- > 0;) {  // lost to rounding
      if (!(weights[i] > 0)) continue;
      shares[i] += count - given;
      given = count;
    }
    return shares;
  }
  /// Brings `count` of the items, any, to the front.
  void bring_forward(std::vector<std::uint32_t>& items, std::size_t count) {
    for (std::size_t i = 0; i < std::min(count, items.size()); ++i) {
      std::swap(items[i], items[i + below(items.size() - i)]);
    }
  }

 private:
  RandomStream stream_;
  std::vector<std::size_t> shares_;
};

}  // namespace tickover::belief
