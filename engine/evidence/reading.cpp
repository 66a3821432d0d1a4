#include "engine/evidence/reading.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/foundation/error.hpp"

namespace tickover {
namespace {

constexpr double kConfirmBeyondShifts = 4;

double normal_density(double x, double mean, double deviation) {
  const double z = (x - mean) / deviation;
  return std::exp(-0.5 * z * z) / (deviation * std::sqrt(2 * std::numbers::pi));
}

/// Log of the complementary error function; the asymptotic series where erfc underflows
/// (Abramowitz & Stegun 7.1.23).
double log_erfc(double x) {
  if (x < 20) return std::log(std::erfc(x));
  const double inverse = 1 / (2 * x * x);
  return -x * x - std::log(x * std::sqrt(std::numbers::pi)) +
         std::log1p(-inverse + 3 * inverse * inverse);
}

/// Density of a normal deviate plus an exponential one of mean `tail`, at `x` beyond the start.
double modified_gaussian(double x, double deviation, double tail) {
  const double rate = 1 / tail;
  const double argument = (rate * deviation * deviation - x) / (deviation * std::numbers::sqrt2);
  return rate / 2 *
         std::exp(rate / 2 * (rate * deviation * deviation - 2 * x) + log_erfc(argument));
}

/// Mean shift of the links in one direction, weighed by strength; 0 without such a link.
double mean_shift(const pack::Finding& finding, pack::Direction direction) {
  double weighed = 0, weight = 0;
  for (const pack::Link& link : finding.links) {
    if (link.direction != direction) continue;
    weighed += link.strength.front().value * link.shift;
    weight += link.strength.front().value;
  }
  return weight > 0 ? difference_to_si(weighed / weight, finding.unit) : 0;
}

std::string shown(double si, const pack::Finding& finding) {
  return format_quantity({si, dimension_of(finding.unit)}, finding.unit, 4);
}

/// A value that would be plausible if one slip had been made, told as a question, or "".
std::string probable_slip(const ReadingModel& reading, const pack::Finding& finding, double value) {
  const double in_finding_unit = in_unit({value, dimension_of(finding.unit)}, finding.unit);
  for (const double factor : {0.1, 10.0, 0.01, 100.0, 0.001, 1000.0, 25.4, 1 / 25.4}) {
    const double meant = quantity_in(in_finding_unit * factor, finding.unit).si;
    if (std::abs(meant - reading.wanted) >
        reading.tolerance + std::max(reading.shift_low, reading.shift_high)) {
      continue;
    }
    return "did you mean " + shown(meant, finding) + "?";
  }
  return {};
}

}  // namespace

ReadingModel reading_model(const Model& model, const FindingInstance& instance) {
  const pack::Finding& finding = model.pack.findings[instance.finding];
  const Wanted& wanted = model.machine.wanted.at(finding.nominal);
  ReadingModel reading;
  reading.wanted = wanted.value.si;
  reading.tolerance = wanted.tolerance;
  reading.instrument = difference_to_si(finding.instrument, finding.unit);
  reading.shift_low = mean_shift(finding, pack::Direction::low);
  reading.shift_high = mean_shift(finding, pack::Direction::high);
  reading.plausible_low = quantity_in(finding.plausible_low, finding.unit).si;
  reading.plausible_high = quantity_in(finding.plausible_high, finding.unit).si;
  reading.slip = finding.slip.value;
  return reading;
}

ReadingLikelihood likelihood(const ReadingModel& reading, double value) {
  const double spread = std::hypot(reading.tolerance / 2, reading.instrument);
  const double floor = reading.slip / (reading.plausible_high - reading.plausible_low);
  const double speaks = 1 - reading.slip;
  const double beyond_low = reading.wanted - reading.tolerance - value;
  const double beyond_high = value - reading.wanted - reading.tolerance;
  ReadingLikelihood density;
  density.still = speaks * normal_density(value, reading.wanted, spread) + floor;
  density.low =
      reading.shift_low > 0
          ? speaks * modified_gaussian(beyond_low, reading.instrument, reading.shift_low) + floor
          : density.still;
  density.high =
      reading.shift_high > 0
          ? speaks * modified_gaussian(beyond_high, reading.instrument, reading.shift_high) + floor
          : density.still;
  density.both = (density.low + density.high) / 2;  // whichever has the upper hand
  return density;
}

double parse_reading(const Model& model, const FindingInstance& instance, const std::string& text) {
  const pack::Finding& finding = model.pack.findings[instance.finding];
  const double value = parse_quantity_of(dimension_of(finding.unit), text, finding.unit).si;
  const ReadingModel reading = reading_model(model, instance);
  if (value >= reading.plausible_low && value <= reading.plausible_high) return value;
  throw InputError(InputFault::usage, "",
                   "'" + finding.id + "' cannot be " + shown(value, finding) +
                       ": real values lie from " + shown(reading.plausible_low, finding) + " to " +
                       shown(reading.plausible_high, finding),
                   probable_slip(reading, finding, value));
}

bool needs_confirmation(const ReadingModel& reading, double value) {
  const double way = std::abs(value - reading.wanted) - reading.tolerance;
  return way > kConfirmBeyondShifts * std::max(reading.shift_low, reading.shift_high);
}

std::string verdict(const Model& model, const FindingInstance& instance, double value) {
  const pack::Finding& finding = model.pack.findings[instance.finding];
  const ReadingModel reading = reading_model(model, instance);
  const std::string low = shown(reading.wanted - reading.tolerance, finding);
  const std::string high = shown(reading.wanted + reading.tolerance, finding);
  if (value < reading.wanted - reading.tolerance) return "below " + low;
  if (value > reading.wanted + reading.tolerance) return "above " + high;
  return "within " + low + " to " + high;
}

}  // namespace tickover
