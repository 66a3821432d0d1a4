#include "engine/plan/bound.hpp"

#include <algorithm>

namespace tickover::plan {

std::vector<double> least_repairs(const Workshop& workshop, const OpenLayers& open, double none) {
  const Access& access = workshop.access();
  std::vector<double> least(workshop.model().causes.size(), none);
  for (const CourseStep& step : workshop.steps()) {
    if (step.look) continue;
    const OpenLayers wider = open | step.need.open;
    const double opening = access.minutes(open, wider).open + access.minutes(wider, {}).close -
                           access.minutes(open, {}).close;
    const double minutes = step.repairing.once + step.repairing.each + step.parts + opening;
    for (const belief::Removal& one : step.removals) {
      if (one.success > 0) least[one.cause] = std::min(least[one.cause], minutes);
    }
  }
  return least;
}

/// The expected value of what a plan costs is the integral, over minutes, of P(it costs more): at
/// least P(not cured by removing all that can be removed for so much).
double least_minutes(const Workshop& workshop, Cures& cures, const OpenLayers& open) {
  const double closing = workshop.access().minutes(open, {}).close;
  const double handing_on = closing + workshop.hand_on_minutes();
  const double verified = closing + workshop.verify_minutes();
  if (verified >= handing_on) return handing_on;
  const std::vector<double> least = least_repairs(workshop, open, handing_on);
  const std::vector<double> culprits = cures.culprits();
  std::vector<std::pair<double, std::size_t>> order;  // minutes, cause
  for (std::size_t c = 0; c < least.size(); ++c) {
    if (culprits[c] > 0 && verified + least[c] < handing_on) order.emplace_back(least[c], c);
  }
  std::sort(order.begin(), order.end());
  cures.start();
  double sum = verified, from = verified, left = 1 - cures.cured();
  for (std::size_t i = 0; i < order.size(); ++i) {
    const double until = verified + order[i].first;
    sum += (until - from) * left;
    from = until;
    cures.remove({order[i].second, 0, 1, 0});
    const bool more = i + 1 < order.size() && order[i + 1].first == order[i].first;
    if (!more) left = 1 - cures.cured();
  }
  return sum + (handing_on - from) * left;
}

}  // namespace tickover::plan
