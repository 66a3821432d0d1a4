#include "engine/gas/valid_range.hpp"

#include <cmath>

#include "engine/foundation/error.hpp"

namespace tickover {
namespace {

/// Ends such as 0.1 kPa are not exact in binary; a value that prints like the end is at the end.
constexpr double kRounding = 1e-12;

std::string told(double value, std::string_view unit) {
  return format_quantity(quantity_in(value, unit), unit);
}

}  // namespace

void require_within(const Quantity& value, const ValidRange& range) {
  const double number = in_unit(value, range.unit);
  const double slack = kRounding * (std::abs(range.low) + std::abs(range.high));
  if (number >= range.low - slack && number <= range.high + slack) return;
  throw InputError(
      InputFault::data, {},
      std::string(range.name) + " " + format_quantity(value, range.unit) +
          " is outside the range of this formula",
      "it holds from " + told(range.low, range.unit) + " to " + told(range.high, range.unit));
}

}  // namespace tickover
