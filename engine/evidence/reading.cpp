#include "engine/evidence/reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/evidence/density.hpp"
#include "engine/evidence/slip.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/measured.hpp"

namespace tickover {
namespace {

constexpr double kConfirmBeyondShifts = 4;

std::string shown(double si, const pack::Finding& finding) {
  return format_quantity({si, dimension_of(finding.unit)}, finding.unit, 4);
}

std::string difference_shown(double si, const pack::Finding& finding) {
  const std::string number = fmt::format("{:.3g}", difference_in_unit(si, finding.unit));
  return finding.unit == "1" ? number : number + " " + finding.unit;
}

/// The sheet's wanted value, or null where only the siblings are compared.
const Wanted* wanted_of(const Model& model, const pack::Finding& finding) {
  return finding.nominal.empty() ? nullptr : &model.machine.wanted.at(finding.nominal);
}

bool moved_low(const pack::Finding& finding) {
  return finding.links.front().direction == pack::Direction::low;
}

/// Whether the reading lies off the sibling furthest the other way, which nothing moves, by more
/// than the tolerance.
std::optional<Verdict> beside_siblings(const pack::Finding& finding, const Observation& seen) {
  if (!seen.sibling) return std::nullopt;
  const double way =
      moved_low(finding) ? *seen.sibling - *seen.reading : *seen.reading - *seen.sibling;
  const double tolerance = difference_to_si(*finding.sibling_tolerance, finding.unit);
  if (way < -tolerance) {  // moved the other way than anything moves it
    return Verdict{false, difference_shown(-way, finding) +
                              (moved_low(finding) ? " above all siblings" : " below all siblings")};
  }
  if (way <= tolerance)
    return Verdict{false, "even, within " + difference_shown(tolerance, finding)};
  return Verdict{true, difference_shown(way, finding) +
                           (moved_low(finding) ? " below a sibling" : " above a sibling")};
}

}  // namespace

double mean_shift(const pack::Finding& finding, pack::Direction direction) {
  double weighed = 0, weight = 0;
  for (const pack::Link& link : finding.links) {
    if (link.direction != direction) continue;
    weighed += link.strength.front().value * link.shift;
    weight += link.strength.front().value;
  }
  return weight > 0 ? difference_to_si(weighed / weight, finding.unit) : 0;
}

ReadingModel reading_model(const Model& model, const FindingInstance& instance) {
  const pack::Finding& finding = model.pack.findings[instance.finding];
  ReadingModel reading;
  reading.instrument = difference_to_si(finding.instrument, finding.unit);
  reading.shift_low = mean_shift(finding, pack::Direction::low);
  reading.shift_high = mean_shift(finding, pack::Direction::high);
  reading.plausible_low = quantity_in(finding.plausible_low, finding.unit).si;
  reading.plausible_high = quantity_in(finding.plausible_high, finding.unit).si;
  reading.slip = finding.slip.value;
  reading.wanted = (reading.plausible_low + reading.plausible_high) / 2;
  const Wanted* wanted = wanted_of(model, finding);
  if (wanted != nullptr) {
    reading.wanted = wanted->value.si;
    reading.tolerance = wanted->tolerance;
  }
  if (!finding.sibling_tolerance) return reading;
  if (wanted != nullptr) {
    reading.instrument = std::hypot(reading.instrument, wanted->tolerance / 2);
  }
  reading.tolerance = difference_to_si(*finding.sibling_tolerance, finding.unit);
  return reading;
}

double cap_decibans(const ReadingModel& reading) {
  const double spread = std::hypot(reading.tolerance / 2, reading.instrument);
  const double peak =
      std::max(normal_density(0, 0, spread), normal_density(0, 0, reading.instrument));
  const double range = reading.plausible_high - reading.plausible_low;
  return 10 * std::log10(1 + (1 - reading.slip) * peak * range / reading.slip);
}

double cap_decibans(const pack::Finding& finding) {
  const auto si = [&](double difference) { return difference_to_si(difference, finding.unit); };
  ReadingModel reading;
  reading.instrument = si(finding.instrument);
  reading.plausible_high = si(finding.plausible_high - finding.plausible_low);
  reading.slip = finding.slip.value;
  if (finding.gases.empty()) return cap_decibans(reading);
  // a sample is two lambdas, the one over the plausible range, the other below 1
  const double peak = std::pow(normal_density(0, 0, finding.instrument), 2);
  const double range = reading.plausible_high * (1 - finding.plausible_low);
  return 10 * std::log10(1 + (1 - reading.slip) * peak * range / reading.slip);
}

JointLikelihood joint_likelihood(const ReadingModel& reading, std::size_t finding,
                                 const ReadingLikelihood& density) {
  JointLikelihood joint{{}, {density.still}};
  if (reading.shift_low > 0) {
    joint.ways.push_back({finding, pack::Direction::low});
    joint.table.push_back(density.low);
  }
  if (reading.shift_high > 0) {
    joint.ways.push_back({finding, pack::Direction::high});
    joint.table.push_back(density.high);
  }
  if (joint.ways.size() == 2) joint.table.push_back(density.both);
  return joint;
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
  const double value = parse_measured(text, finding.unit).si;
  const ReadingModel reading = reading_model(model, instance);
  if (is_plausible(reading, value)) return value;
  throw InputError(InputFault::usage, "",
                   "'" + finding.id + "' cannot be " + shown(value, finding) +
                       ": real values lie from " + shown(reading.plausible_low, finding) + " to " +
                       shown(reading.plausible_high, finding),
                   probable_slip(text, finding.unit, reading, !finding.nominal.empty()));
}

bool is_plausible(const ReadingModel& reading, double value) {
  return value >= reading.plausible_low && value <= reading.plausible_high;
}

bool needs_confirmation(const ReadingModel& reading, double value) {
  const double way = std::abs(value - reading.wanted) - reading.tolerance;
  return way > kConfirmBeyondShifts * std::max(reading.shift_low, reading.shift_high);
}

Verdict verdict(const Model& model, const Observation& seen) {
  const pack::Finding& finding = model.pack.findings[model.findings[seen.finding].finding];
  const double value = *seen.reading;
  const std::optional<Verdict> beside = beside_siblings(finding, seen);
  if (finding.nominal.empty()) return beside.value_or(Verdict{false, "no sibling read yet"});
  const Wanted& wanted = *wanted_of(model, finding);
  const double low = wanted.value.si - wanted.tolerance, high = wanted.value.si + wanted.tolerance;
  if (value < low) return {true, "below " + shown(low, finding)};
  if (seen.sample && seen.sample->doubtful) {
    return {value > high, "thinned: outside air or misfire"};
  }
  if (value > high) return {true, "above " + shown(high, finding)};
  if (beside && beside->beyond) return *beside;
  return {false, "within " + shown(low, finding) + " to " + shown(high, finding)};
}

std::string wanted_text(const Model& model, const pack::Finding& finding) {
  const Wanted* wanted = wanted_of(model, finding);
  if (wanted == nullptr) return "as siblings";
  const char* of_what = finding.gases.empty() ? "" : "lambda ";  // told by gases, bare as a number
  return of_what + shown(wanted->value.si, finding);
}

std::string limit_text(const Model& model, const pack::Finding& finding) {
  const Wanted* wanted = wanted_of(model, finding);
  if (wanted == nullptr) {
    return difference_shown(difference_to_si(*finding.sibling_tolerance, finding.unit), finding) +
           (moved_low(finding) ? " below" : " above");
  }
  return shown(wanted->value.si - wanted->tolerance, finding) + " to " +
         shown(wanted->value.si + wanted->tolerance, finding);
}

}  // namespace tickover
