#include "engine/evidence/siblings.hpp"

#include <algorithm>
#include <cmath>

#include "engine/evidence/density.hpp"

namespace tickover {
namespace {

/// Calls `use` with nodes over the levels that the values leave possible.
template <class Use>
void for_levels(const SiblingModel& siblings, const std::vector<double>& values, const Use& use) {
  const ReadingModel& place = siblings.place;
  // as narrow as the product of all their densities may be
  const double width = 1.5 * place.instrument / std::sqrt(static_cast<double>(values.size()));
  if (siblings.level_known) {
    const double reach = kDeviations * siblings.level_deviation;
    for_nodes(siblings.level - reach, siblings.level + reach,
              std::min(width, siblings.level_deviation), [&](const Node& node) {
                const double prior =
                    normal_density(node.at, siblings.level, siblings.level_deviation);
                use(Node{node.at, prior * node.weight});
              });
    return;
  }
  const double range = place.plausible_high - place.plausible_low;
  const auto scaled = [&](const Node& node) { use(Node{node.at, node.weight / range}); };
  const auto [least, most] = std::minmax_element(values.begin(), values.end());
  const double reach = kDeviations * std::hypot(place.tolerance / 2, place.instrument);
  const double low = *least - reach - (siblings.moved_low ? 0 : place.tolerance);
  const double high = *most + reach + (siblings.moved_low ? place.tolerance : 0);
  for_nodes(low, high, width, scaled);
  // further out only the exponential ways of moved places are left
  const double shift = siblings.moved_low ? place.shift_low : place.shift_high;
  const double tail = kShifts * shift;
  for_nodes(siblings.moved_low ? high : low - tail, siblings.moved_low ? high + tail : low, shift,
            scaled);
}

/// Fills `table` with the product of the densities of each set of moved places.
void multiply(const SiblingModel& siblings, const std::vector<double>& values, double level,
              std::vector<double>& table) {
  ReadingModel place = siblings.place;
  place.wanted = level;
  table[0] = 1;
  std::size_t filled = 1;
  for (const double value : values) {
    const ReadingLikelihood density = likelihood(place, value);
    const double moved = siblings.moved_low ? density.low : density.high;
    for (std::size_t set = 0; set < filled; ++set) {
      table[filled + set] = table[set] * moved;
      table[set] *= density.still;
    }
    filled *= 2;
  }
}

}  // namespace

SiblingModel sibling_model(const Model& model, const pack::Finding& finding) {
  SiblingModel siblings;
  siblings.moved_low = finding.links.front().direction == pack::Direction::low;
  siblings.place.instrument = difference_to_si(finding.instrument, finding.unit);
  siblings.place.tolerance = difference_to_si(*finding.sibling_tolerance, finding.unit);
  siblings.place.shift_low = mean_shift(finding, pack::Direction::low);
  siblings.place.shift_high = mean_shift(finding, pack::Direction::high);
  siblings.place.plausible_low = quantity_in(finding.plausible_low, finding.unit).si;
  siblings.place.plausible_high = quantity_in(finding.plausible_high, finding.unit).si;
  siblings.place.slip = finding.slip.value;
  if (finding.nominal.empty()) return siblings;
  const Wanted& wanted = model.machine.wanted.at(finding.nominal);
  siblings.level_known = true;
  siblings.level = wanted.value.si;
  siblings.level_deviation = wanted.tolerance / 2;
  return siblings;
}

std::vector<double> sibling_likelihood(const SiblingModel& siblings,
                                       const std::vector<double>& values) {
  const ReadingModel& place = siblings.place;
  const double range = place.plausible_high - place.plausible_low;
  std::vector<double> table(std::size_t{1} << values.size(), 0), product(table.size());
  if (!siblings.level_known && values.size() == 1) return {1 / range, 1 / range};
  const double all_slipped =
      siblings.level_known ? 0 : std::pow(place.slip / range, static_cast<double>(values.size()));
  for_levels(siblings, values, [&](const Node& level) {
    multiply(siblings, values, level.at, product);
    for (std::size_t set = 0; set < table.size(); ++set) {
      table[set] += level.weight * (product[set] - all_slipped);
    }
  });
  for (double& density : table) density += all_slipped;
  return table;
}

std::vector<JointLikelihood> sibling_likelihoods(const SiblingModel& siblings,
                                                 const std::vector<std::size_t>& findings,
                                                 const std::vector<double>& values) {
  const pack::Direction direction =
      siblings.moved_low ? pack::Direction::low : pack::Direction::high;
  std::vector<JointLikelihood> added;
  std::vector<Way> ways;
  std::vector<double> before = {1};
  for (std::size_t i = 0; i < values.size(); ++i) {
    ways.push_back({findings[i], direction});
    const std::vector<double> table = sibling_likelihood(
        siblings, {values.begin(), values.begin() + static_cast<std::ptrdiff_t>(i) + 1});
    JointLikelihood one{ways, table};
    for (std::size_t set = 0; set < table.size(); ++set) {
      const double known = before[set % before.size()];
      one.table[set] = known > 0 ? table[set] / known : 0;
    }
    before = table;
    added.push_back(std::move(one));
  }
  return added;
}

}  // namespace tickover
