#include "tests/support/inside_information.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace tickover::test {
namespace {

/// Shares of one fault, so rare that two at once do not count.
constexpr double kRare = 1e-6;

/// What is done one after the other.
struct Item {
  double p = 0, minutes = 0;
  Order actions;
  double ratio() const { return p / minutes; }
  void join(const Item& next) {
    p += next.p;
    minutes += next.minutes;
    actions.insert(actions.end(), next.actions.begin(), next.actions.end());
  }
};

void put_in_order(std::vector<Item>& items) {
  std::stable_sort(items.begin(), items.end(),
                   [](const Item& a, const Item& b) { return a.ratio() > b.ratio(); });
}

/// Of `items`, in order, those that make the most of opening the layer become one.
std::vector<Item> behind_layer(std::vector<Item> items, double opening) {
  put_in_order(items);
  Item first{0, opening, {}};
  std::size_t taken = 0;
  while (taken < items.size() && (taken == 0 || items[taken].ratio() > first.ratio())) {
    first.join(items[taken++]);
  }
  if (taken == 0) return {};
  std::vector<Item> left = {first};
  left.insert(left.end(), items.begin() + std::ptrdiff_t(taken), items.end());
  return left;
}

/// Minutes of the action when those of `open` (by layer) are open; opens what it needs.
double spend(const LayerForest& forest, const LayerAction& action, std::vector<bool>& open) {
  double minutes = action.minutes;
  for (std::optional<std::size_t> at = action.layer; at; at = forest.layers[*at].behind) {
    if (!open[*at]) minutes += forest.layers[*at].minutes;
    open[*at] = true;
  }
  return minutes;
}

template <class Minutes>
Order greedy(const LayerForest& forest, Minutes minutes) {
  std::vector<bool> open(forest.layers.size(), false);
  Order order;
  while (order.size() < forest.actions.size()) {
    std::optional<std::size_t> best;
    double best_ratio = -1;
    for (std::size_t i = 0; i < forest.actions.size(); ++i) {
      if (std::count(order.begin(), order.end(), i) > 0) continue;
      const double ratio = forest.actions[i].p / minutes(forest.actions[i], open);
      if (ratio <= best_ratio) continue;
      best = i;
      best_ratio = ratio;
    }
    spend(forest, forest.actions[*best], open);
    order.push_back(*best);
  }
  return order;
}

double best_from(const LayerForest& forest, unsigned done, double left,
                 std::vector<double>& known) {
  if (known[done] >= 0) return known[done];
  std::vector<bool> open(forest.layers.size(), false);
  for (std::size_t i = 0; i < forest.actions.size(); ++i) {
    if ((done >> i & 1U) != 0) spend(forest, forest.actions[i], open);
  }
  double best = done + 1 == known.size() ? 0 : 1e300;
  for (std::size_t i = 0; i < forest.actions.size(); ++i) {
    if ((done >> i & 1U) != 0) continue;
    std::vector<bool> then = open;
    const double minutes = left * spend(forest, forest.actions[i], then);
    const double rest = best_from(forest, done | 1U << i, left - forest.actions[i].p, known);
    best = std::min(best, minutes + rest);
  }
  return known[done] = best;
}

}  // namespace

double minutes_of(const LayerForest& forest, const Order& order) {
  std::vector<bool> open(forest.layers.size(), false);
  double minutes = 0, left = 1;
  for (const std::size_t i : order) {
    minutes += left * spend(forest, forest.actions[i], open);
    left -= forest.actions[i].p;
  }
  return minutes;
}

Order bottom_up(const LayerForest& forest) {
  const std::size_t ground = forest.layers.size();
  std::vector<std::vector<Item>> at(ground + 1);
  for (std::size_t i = 0; i < forest.actions.size(); ++i) {
    const LayerAction& action = forest.actions[i];
    at[action.layer.value_or(ground)].push_back({action.p, action.minutes, {i}});
  }
  for (std::size_t layer = ground; layer-- > 0;) {  // each stands after what it is behind
    const LayerForest::Layer& its = forest.layers[layer];
    for (Item& item : behind_layer(at[layer], its.minutes)) {
      at[its.behind.value_or(ground)].push_back(std::move(item));
    }
  }
  put_in_order(at[ground]);
  Item all;
  for (const Item& item : at[ground]) all.join(item);
  return all.actions;
}

Order myopic(const LayerForest& forest) {
  return greedy(forest, [&](const LayerAction& action, std::vector<bool> open) {
    return spend(forest, action, open);
  });
}

Order plain(const LayerForest& forest) {
  return greedy(forest, [](const LayerAction& action, const auto&) { return action.minutes; });
}

double least_of_all_orders(const LayerForest& forest) {
  std::vector<double> known(std::size_t{1} << forest.actions.size(), -1);
  return best_from(forest, 0, 1, known);
}

LayerForest random_forest(Random& random, std::size_t most, double unlisted) {
  LayerForest forest;
  const std::size_t layers = 2 + random.below(3), actions = 2 + random.below(most - 1);
  for (std::size_t i = 0; i < layers; ++i) {
    LayerForest::Layer layer{{}, 2 * std::floor(random.between(1, 25))};
    if (i > 0 && random.chance(0.7)) layer.behind = random.below(i);
    forest.layers.push_back(layer);
  }
  double sum = 0;
  for (std::size_t i = 0; i < actions; ++i) {
    LayerAction action{{}, random.between(0.2, 1), std::floor(random.between(1, 20))};
    if (random.chance(0.8)) action.layer = random.below(layers);
    forest.actions.push_back(action);
    sum += action.p;
  }
  for (LayerAction& action : forest.actions) action.p *= (1 - unlisted) / sum;
  return forest;
}

SmallPack as_pack(const LayerForest& forest, double repair, double hand_on) {
  SmallPack small(0, hand_on);
  for (const LayerForest::Layer& layer : forest.layers) {
    SmallPack::Layer added{layer.minutes / 2, layer.minutes / 2};
    if (layer.behind) added.behind = {*layer.behind};
    small.layer(added);
  }
  std::vector<SmallPack::Link> links;
  double unlisted = 1;
  for (const LayerAction& action : forest.actions) {
    links.push_back({small.cause(action.p * kRare), 1});
    unlisted -= action.p;
  }
  small.symptom(std::max(unlisted, 0.0) * kRare, links);
  for (std::size_t i = 0; i < forest.actions.size(); ++i) {
    const LayerAction& action = forest.actions[i];
    std::vector<std::size_t> open;
    if (action.layer) open = {*action.layer};
    small.repair({{{i, 1}}, {0, repair}, open});
    small.look({i, 1, 0, {0, action.minutes}, open});
  }
  return small;
}

}  // namespace tickover::test
