/// @file
/// A number on an instrument as evidence.
#pragma once

#include <string>

#include "engine/evidence/evidence.hpp"

namespace tickover {

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

ReadingModel reading_model(const Model& model, const FindingInstance& instance);

/// Densities of `value` (SI) per unit of SI. Each integrates to 1 over the real line up to the
/// share `slip`, which is spread over the plausible range.
ReadingLikelihood likelihood(const ReadingModel& reading, double value);

/// Reads "14.6 mm" for `finding`; a bare number is in the finding's unit. Throws InputError (usage)
/// for a wrong dimension, and for a value outside the plausible range, naming the probable slip
/// ("did you mean 14.6 mm?") where a shifted decimal point or another unit would explain it.
double parse_reading(const Model& model, const FindingInstance& instance, const std::string& text);

/// True when the value lies so far out that it should be confirmed: further beyond the tolerance
/// than four times the larger mean shift.
bool needs_confirmation(const ReadingModel& reading, double value);

/// "below 13.6 mm", "within 13.6 to 15.6 mm": the verdict on a value.
std::string verdict(const Model& model, const FindingInstance& instance, double value);

}  // namespace tickover
