/// @file
/// Parts that are not in stock: what to order, and what can be done until they are here.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/plan/advise.hpp"

namespace tickover::plan {

/// A repair that waits for parts, and the likeliest of the causes that it removes.
struct Order {
  std::size_t repair = 0;  ///< index into pack.repairs
  std::vector<std::string> parts;
  std::size_t cause = 0;   ///< index into Model::causes
  double probability = 0;  ///< that this cause is present now
};

/// For the repairs of the plan, and of what the results of the first proposal would lead to; the
/// likeliest to be needed first. Empty where nothing is missing.
std::vector<Order> orders(const Workshop& workshop, const Advice& advice);

/// What comes first is a repair that waits for one of `ordered`.
bool waits(const Advice& advice, const std::vector<Order>& ordered);

/// The best thing to do without the repairs of `ordered`, nor any other in their stead; none where
/// nothing is worth its time.
std::optional<Proposal> meanwhile(const Workshop& workshop, const belief::Ground& ground,
                                  const Evidence& evidence, const std::vector<Order>& ordered);

}  // namespace tickover::plan
