#include "engine/foundation/measured.hpp"

#include "engine/foundation/decimal.hpp"
#include "engine/foundation/error.hpp"

namespace tickover {

Quantity parse_measured(std::string_view text, std::string_view unit) {
  const Dimension dimension = dimension_of(unit);
  const bool customary = dimension == Dimension::number || dimension == Dimension::angle;
  const Decimal decimal = parse_decimal(text);
  if (!decimal.rest.empty() || customary) return parse_quantity_of(dimension, text, unit);
  throw InputError(
      InputFault::usage, {}, "'" + printable(text) + "' has no unit",
      "write it with its unit, such as " + format_quantity(quantity_in(decimal.value, unit), unit));
}

}  // namespace tickover
