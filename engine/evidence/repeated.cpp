#include "engine/evidence/repeated.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "engine/evidence/density.hpp"

namespace tickover {
namespace {

/// Product over the readings when the part's true value is `truth`.
double product_at(const ReadingModel& reading, const std::vector<double>& values, double truth) {
  const double floor = reading.slip / (reading.plausible_high - reading.plausible_low);
  double product = 1;
  for (const double value : values) {
    product *= (1 - reading.slip) * normal_density(value, truth, reading.instrument) + floor;
  }
  return product;
}

/// Ends of the stretches of [from, to] that lie near a reading, or near none.
std::vector<double> cuts_of(double from, double to, double reach,
                            const std::vector<double>& values) {
  std::vector<double> cuts = {from, to};
  for (const double value : values) {
    for (const double cut : {value - reach, value + reach}) {
      if (cut > from && cut < to) cuts.push_back(cut);
    }
  }
  std::sort(cuts.begin(), cuts.end());
  return cuts;
}

/// Integral of prior * product over [from, to]; `width` is that of the prior. Away from all
/// readings the product is even, near them it may be as narrow as their mean's error.
template <class Prior>
double over_truth(const ReadingModel& reading, const std::vector<double>& values, double from,
                  double to, double width, const Prior& prior) {
  const double reach = kDeviations * reading.instrument;
  const double narrow = reading.instrument / std::sqrt(static_cast<double>(values.size()));
  const std::vector<double> cuts = cuts_of(from, to, reach, values);
  double sum = 0;
  for (std::size_t i = 1; i < cuts.size(); ++i) {
    const double middle = (cuts[i - 1] + cuts[i]) / 2;
    const bool near = std::any_of(values.begin(), values.end(),
                                  [&](double value) { return std::abs(value - middle) < reach; });
    for_nodes(cuts[i - 1], cuts[i], near ? std::min(narrow, width) : width, [&](const Node& node) {
      sum += node.weight * prior(node.at) * product_at(reading, values, node.at);
    });
  }
  return sum;
}

double still_density(const ReadingModel& reading, const std::vector<double>& values) {
  const double deviation = reading.tolerance / 2, reach = kDeviations * deviation;
  return over_truth(reading, values, reading.wanted - reach, reading.wanted + reach, deviation,
                    [&](double truth) { return normal_density(truth, reading.wanted, deviation); });
}

/// Moved to the side -1 or +1, by a way of mean `shift` beyond the tolerance.
double moved_density(const ReadingModel& reading, const std::vector<double>& values, double side,
                     double shift) {
  const double start = reading.wanted + side * reading.tolerance;
  const double end = start + side * kShifts * shift;
  return over_truth(
      reading, values, std::min(start, end), std::max(start, end), shift,
      [&](double truth) { return std::exp(-std::abs(truth - start) / shift) / shift; });
}

double over(double with, double without) { return without > 0 ? with / without : 0; }

}  // namespace

ReadingLikelihood joint_density(const ReadingModel& reading, const std::vector<double>& values) {
  assert(!values.empty());
  if (values.size() == 1) return likelihood(reading, values.front());
  ReadingLikelihood joint;
  joint.still = still_density(reading, values);
  joint.low =
      reading.shift_low > 0 ? moved_density(reading, values, -1, reading.shift_low) : joint.still;
  joint.high =
      reading.shift_high > 0 ? moved_density(reading, values, +1, reading.shift_high) : joint.still;
  joint.both = (joint.low + joint.high) / 2;  // whichever has the upper hand
  return joint;
}

std::vector<ReadingLikelihood> repeated_likelihoods(const ReadingModel& reading,
                                                    const std::vector<double>& values) {
  std::vector<ReadingLikelihood> added;
  ReadingLikelihood before;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const ReadingLikelihood joint = joint_density(
        reading, {values.begin(), values.begin() + static_cast<std::ptrdiff_t>(i) + 1});
    added.push_back({over(joint.still, before.still), over(joint.low, before.low),
                     over(joint.high, before.high), over(joint.both, before.both)});
    before = joint;
  }
  return added;
}

}  // namespace tickover
