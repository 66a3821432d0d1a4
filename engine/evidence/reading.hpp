/// @file
/// A number on an instrument as evidence.
#pragma once

#include <string>

#include "engine/evidence/evidence.hpp"

namespace tickover {

/// How likely a reading is (density per unit, any common factor) when nothing moves it, when
/// something moves it low, high, or both ways.
struct ReadingLikelihood {
  double still = 1, low = 1, high = 1, both = 1;
};

/// How a value of `finding` is distributed. All in SI (differences for widths).
///
/// In order, the true value lies within the tolerance of the wanted one: normal, the tolerance
/// being two standard deviations, and the instrument adds its own. Moved low or high, it lies
/// beyond that limit by an exponentially distributed way whose mean is the mean shift of the links
/// in that direction, weighed by strength; the instrument blurs that too (exponentially modified
/// Gaussian, Grushka 1972). Either way a share `slip` of readings says nothing: uniform over the
/// plausible range. That share bounds what a single reading can do: no likelihood ratio exceeds
/// peak / floor.
struct ReadingModel {
  double wanted = 0, tolerance = 0, instrument = 0;
  double shift_low = 0, shift_high = 0;  ///< mean way beyond the tolerance; 0: nothing moves it so
  double plausible_low = 0, plausible_high = 0;
  double slip = 0;
};

/// The model of a reading by itself. Against siblings, `tolerance` is that of the siblings, and
/// `wanted` their common level: the sheet's value, whose tolerance (two standard deviations) then
/// counts as an error of the instrument; or, as a stand-in where only differences matter, the
/// middle of the plausible range. Of an exhaust sample it is the lambda.
ReadingModel reading_model(const Model& model, const FindingInstance& instance);

/// 10 log10 of the largest likelihood ratio between any two states that any value can give. Unit:
/// decibans; infinite when no reading slips.
double cap_decibans(const ReadingModel& reading);
/// The same of any reading of `finding` whatever the machine's sheet says: what a single reading,
/// however wild, can do to a cause.
double cap_decibans(const pack::Finding& finding);

/// Mean shift of the links in one direction, weighed by strength, in SI; 0 without such a link.
double mean_shift(const pack::Finding& finding, pack::Direction direction);

/// A reading by itself (`finding` is an index into Model::findings): over the directions in which
/// something can move it.
JointLikelihood joint_likelihood(const ReadingModel& reading, std::size_t finding,
                                 const ReadingLikelihood& density);

/// Densities of `value` (SI) per unit of SI. Each integrates to 1 over the real line up to the
/// share `slip`, which is spread over the plausible range.
ReadingLikelihood likelihood(const ReadingModel& reading, double value);

/// Reads "14.6 mm" for `finding`. Throws InputError (usage) for a missing unit (see
/// foundation/measured.hpp), a wrong dimension, and for a value outside the plausible range, naming
/// the probable slip ("did you mean 14.6 mm?").
double parse_reading(const Model& model, const FindingInstance& instance, const std::string& text);

/// True when the value (SI) lies within the plausible range, both ends in it.
bool is_plausible(const ReadingModel& reading, double value);

/// True when the value lies so far out that it should be confirmed: further beyond the tolerance
/// than four times the larger mean shift.
bool needs_confirmation(const ReadingModel& reading, double value);

/// The verdict on a reading: how it stands to its limits.
struct Verdict {
  bool beyond = false;  ///< outside the limits
  std::string text;     ///< "below 13.6 mm", "within 13.6 mm to 15.6 mm", "4 kPa below a sibling"
};
Verdict verdict(const Model& model, const Observation& seen);

/// What is wanted and how far off it may be: "17.5 mm", "16.5 mm to 18.5 mm"; against siblings
/// alone "as siblings" and "1.4 kPa below".
std::string wanted_text(const Model& model, const pack::Finding& finding);
std::string limit_text(const Model& model, const pack::Finding& finding);

}  // namespace tickover
