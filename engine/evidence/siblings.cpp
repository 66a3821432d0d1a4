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

/// Fills `table` with the product of the densities of each set of moved places, value after value;
/// calls `use(i, table)` once it is that of values[0] to values[i].
template <class Use>
void multiply(const SiblingModel& siblings, const std::vector<double>& values, double level,
              std::vector<double>& table, const Use& use) {
  ReadingModel place = siblings.place;
  place.wanted = level;
  table.assign(1, 1.0);
  for (std::size_t i = 0; i < values.size(); ++i) {
    const ReadingLikelihood density = likelihood(place, values[i]);
    const double moved = siblings.moved_low ? density.low : density.high;
    const std::size_t filled = table.size();
    table.resize(2 * filled);
    for (std::size_t set = 0; set < filled; ++set) {
      table[filled + set] = table[set] * moved;
      table[set] *= density.still;
    }
    use(i, table);
  }
}

/// Of the first value, of the first two, and so on: one quadrature for all, over what the values
/// together leave possible.
std::vector<std::vector<double>> tables_of_first(const SiblingModel& siblings,
                                                 const std::vector<double>& values) {
  const ReadingModel& place = siblings.place;
  const double range = place.plausible_high - place.plausible_low;
  std::vector<std::vector<double>> tables;
  std::vector<double> slipped;  // all of them, at any level: beyond the nodes too
  for (std::size_t i = 0; i < values.size(); ++i) {
    tables.emplace_back(std::size_t{2} << i, 0.0);
    slipped.push_back(
        siblings.level_known ? 0 : std::pow(place.slip / range, static_cast<double>(i + 1)));
  }
  std::vector<double> product;
  for_levels(siblings, values, [&](const Node& level) {
    multiply(siblings, values, level.at, product,
             [&](std::size_t i, const std::vector<double>& of_first) {
               for (std::size_t set = 0; set < of_first.size(); ++set) {
                 tables[i][set] += level.weight * (of_first[set] - slipped[i]);
               }
             });
  });
  for (std::size_t i = 0; i < values.size(); ++i) {
    for (double& density : tables[i]) density += slipped[i];
  }
  // one alone says nothing where no level is known
  if (!siblings.level_known) tables.front() = {1 / range, 1 / range};
  return tables;
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
  return tables_of_first(siblings, values).back();
}

std::vector<JointLikelihood> sibling_likelihoods(const SiblingModel& siblings,
                                                 const std::vector<std::size_t>& findings,
                                                 const std::vector<double>& values) {
  const pack::Direction direction =
      siblings.moved_low ? pack::Direction::low : pack::Direction::high;
  std::vector<JointLikelihood> added;
  std::vector<Way> ways;
  std::vector<double> before = {1};
  for (std::vector<double>& table : tables_of_first(siblings, values)) {
    ways.push_back({findings[ways.size()], direction});
    JointLikelihood one{ways, table};
    for (std::size_t set = 0; set < table.size(); ++set) {
      const double known = before[set % before.size()];
      one.table[set] = known > 0 ? table[set] / known : 0;
    }
    before = std::move(table);
    added.push_back(std::move(one));
  }
  return added;
}

}  // namespace tickover
