#include "engine/trial/value.hpp"

#include <algorithm>
#include <cmath>

#include "engine/foundation/text.hpp"

namespace tickover::trial {

double drawn_value(const ReadingModel& model, const Moves& moves, const Draws& draws, Key part,
                   Key look) {
  if (draws.chance(model.slip, Purpose::slip, look)) {
    const double share = draws.uniform(Purpose::slip, {look.a, look.b, look.c + 1000});
    return model.plausible_low + share * (model.plausible_high - model.plausible_low);
  }
  // moved both ways, whichever has the upper hand
  const bool low =
      moves.low && (!moves.high || draws.chance(0.5, Purpose::part, {part.a, part.b, 1}));
  double value = model.wanted;
  if (low) {
    value -= model.tolerance + model.shift_low * draws.exponential(Purpose::part, part);
  } else if (moves.high) {
    value += model.tolerance + model.shift_high * draws.exponential(Purpose::part, part);
  } else {
    value += model.tolerance / 2 * draws.normal(Purpose::part, part);
  }
  value += model.instrument * draws.normal(Purpose::instrument, look);
  return std::clamp(value, model.plausible_low, model.plausible_high);
}

std::string written(const pack::Finding& finding, double si) {
  // six digits, as no instrument has more; the ends of the range are as the pack writes them
  const double value = in_unit({si, dimension_of(finding.unit)}, finding.unit);
  const double scale = std::pow(10, 5 - std::floor(std::log10(std::max(std::abs(value), 1e-9))));
  const double rounded =
      std::clamp(std::round(value * scale) / scale, finding.plausible_low, finding.plausible_high);
  return shortest(rounded) + (finding.unit == "1" ? "" : " " + finding.unit);
}

double success_of(const Model& truth, const RepairDone& done) {
  const std::vector<pack::Removal>& removes = truth.pack.repairs[done.repair].removes;
  const std::size_t cause = truth.causes[done.cause].cause;
  const auto found = std::find_if(removes.begin(), removes.end(),
                                  [&](const pack::Removal& one) { return one.cause == cause; });
  return found == removes.end() ? 0 : found->success.value;
}

}  // namespace tickover::trial
