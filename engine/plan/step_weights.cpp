#include "engine/plan/step_weights.hpp"

namespace tickover::plan {
namespace {

/// A repair that does less for a cause than this share of what it does at first, after others that
/// failed, is not done for it.
constexpr double kStillWorth = 0.5;

}  // namespace

StepWeights::StepWeights(const Workshop& workshop, std::vector<double> blamed, const Tries& tries)
    : workshop_(workshop),
      tries_(tries),
      blamed_(std::move(blamed)),
      weights_(workshop.steps().size(), 0.0) {
  for (std::size_t cause = 0; cause < blamed_.size(); ++cause) {
    if (blamed_[cause] > 0) update(cause);
  }
}

double StepWeights::of(const CourseStep& step) const {
  double sum = 0;
  for (const belief::Removal& one : step.removals) {
    const double goes = tries_.left(step.look.has_value(), one);
    if (goes >= kStillWorth * one.success) sum += goes * blamed_[one.cause];
  }
  return sum;
}

void StepWeights::remove(const belief::Removal& removal) {
  blamed_[removal.cause] *= 1 - removal.success;
  update(removal.cause);
}

void StepWeights::update(std::size_t cause) {
  for (const std::size_t step : workshop_.steps_with(cause)) {
    weights_[step] = of(workshop_.steps()[step]);
  }
}

}  // namespace tickover::plan
