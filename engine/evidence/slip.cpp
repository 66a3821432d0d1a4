#include "engine/evidence/slip.hpp"

#include <cmath>

#include "engine/foundation/decimal.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/units.hpp"

namespace tickover {
namespace {

/// The number in that unit as a question, when it fits.
std::string asked(double number, const std::string& unit, const std::function<bool(double)>& fits) {
  try {
    const Quantity meant = quantity_in(number, unit);
    return fits(meant.si) ? "did you mean " + format_quantity(meant, unit) + "?" : "";
  } catch (const InputError&) {
    return {};  // below absolute zero, or not finite
  }
}

}  // namespace

std::string probable_slip(std::string_view text, std::string_view unit,
                          const std::function<bool(double)>& fits) {
  const Decimal decimal = parse_decimal(text);
  const std::string written = decimal.rest.empty() ? std::string(unit) : decimal.rest;
  const auto point_off = [&](std::initializer_list<double> factors) {
    for (const double factor : factors) {
      const std::string question = asked(decimal.value * factor, written, fits);
      if (!question.empty()) return question;
    }
    return std::string();
  };
  const std::string one_place = point_off({0.1, 10});
  if (!one_place.empty()) return one_place;
  for (const std::string& other : known_units(dimension_of(written))) {
    const std::string question = asked(decimal.value, other, fits);
    if (!question.empty()) return question;
  }
  return point_off({0.01, 100, 0.001, 1000});
}

std::string probable_slip(std::string_view text, std::string_view unit, const ReadingModel& reading,
                          bool level_known) {
  const auto plausible = [&](double value) {
    return is_plausible(reading, value) && (!level_known || !needs_confirmation(reading, value));
  };
  const auto in_order = [&](double value) {
    return plausible(value) && std::abs(value - reading.wanted) <= reading.tolerance;
  };
  const std::string question = level_known ? probable_slip(text, unit, in_order) : "";
  return question.empty() ? probable_slip(text, unit, plausible) : question;
}

}  // namespace tickover
