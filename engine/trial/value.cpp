#include "engine/trial/value.hpp"

#include <algorithm>
#include <cmath>

#include "engine/foundation/text.hpp"

namespace tickover::trial {
namespace {

/// How often a value that cannot be is drawn again before it is held at the end of the range.
constexpr std::uint64_t kMostAgain = 50;

/// The first value within the plausible range that `draw` gives.
template <class Draw>
double possible(const ReadingModel& model, const Draw& draw) {
  for (std::uint64_t again = 0; again < kMostAgain; ++again) {
    const double value = draw(again);
    if (is_plausible(model, value)) return value;
  }
  return std::clamp(draw(0), model.plausible_low, model.plausible_high);
}

/// Where the part truly lies.
double part_value(const ReadingModel& model, const Moves& moves, const Draws& draws, Key key) {
  // moved both ways, whichever has the upper hand
  const bool low =
      moves.low && (!moves.high || draws.chance(0.5, Purpose::part, {key.a, key.b, 1000}));
  if (low) {
    return model.wanted - model.tolerance - model.shift_low * draws.exponential(Purpose::part, key);
  }
  if (moves.high) {
    return model.wanted + model.tolerance +
           model.shift_high * draws.exponential(Purpose::part, key);
  }
  return model.wanted + model.tolerance / 2 * draws.normal(Purpose::part, key);
}

}  // namespace

double drawn_value(const ReadingModel& model, const Moves& moves, const Draws& draws, Key part,
                   Key look) {
  if (draws.chance(model.slip, Purpose::slip, look)) {
    const double share = draws.uniform(Purpose::slip, {look.a, look.b, look.c + 1000});
    return model.plausible_low + share * (model.plausible_high - model.plausible_low);
  }
  const double lies = possible(model, [&](std::uint64_t again) {
    return part_value(model, moves, draws, {part.a, part.b, again});
  });
  return possible(model, [&](std::uint64_t again) {
    const Key key{look.a, look.b, look.c + 1000 * again};
    return lies + model.instrument * draws.normal(Purpose::instrument, key);
  });
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
