/// @file
/// Actions behind layers of access when each shows at once, before anything is closed, whether it
/// was the one: where the best order is known.
#pragma once

#include <optional>
#include <vector>

#include "tests/support/random_case.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::test {

/// One cause is there; the action cures it with probability `p`, whatever else is done.
struct LayerAction {
  std::optional<std::size_t> layer = {};
  double p = 0, minutes = 0;
};

/// Layers as a forest, each above those behind it; `minutes` are of opening and closing.
struct LayerForest {
  struct Layer {
    std::optional<std::size_t> behind = {};  ///< an earlier one
    double minutes = 0;
  };
  std::vector<Layer> layers;
  std::vector<LayerAction> actions;
};

using Order = std::vector<std::size_t>;  ///< indices of actions

/// Expected minutes: of each action those of what must be opened for it, there and back, and its
/// own, times P(none before it cured).
double minutes_of(const LayerForest& forest, const Order& order);

/// The best order: bottom-up P-over-C of Ottosen & Jensen, "The cost of troubleshooting cost
/// clusters with inside information", UAI 2010 (arXiv 1203.3502), in our words, from memory. From
/// the innermost layers outwards the actions of a layer, and what comes from those behind it, stand
/// by p per minute; as many of the first as make the most of opening it become one.
Order bottom_up(const LayerForest& forest);
/// By p per minute, what must be opened now counted, or not.
Order myopic(const LayerForest& forest);
Order plain(const LayerForest& forest);
/// The least of all orders, tried out.
double least_of_all_orders(const LayerForest& forest);

/// Two actions to `most` behind two to four layers, whose probabilities sum to 1 less `unlisted`.
LayerForest random_forest(Random& random, std::size_t most, double unlisted);

/// The same as a pack: each action a look that does not err and then its repair, of `repair`
/// minutes wherever it is; what is not listed is handed on.
SmallPack as_pack(const LayerForest& forest, double repair, double hand_on);

}  // namespace tickover::test
