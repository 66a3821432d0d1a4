/// @file
/// What a person reads off an instrument and types: a value with its unit.
#pragma once

#include <string_view>

#include "engine/foundation/units.hpp"

namespace tickover {

/// Reads "14.6 mm" as a quantity of the dimension that `unit` belongs to. A bare number is taken
/// only where no unit is customary: of a plain number (lambda, a count), and of a screw ("2 3/4"
/// is turns). Anywhere else it is refused, since "167" on a sheet in kPa may have been read in psi.
/// Throws InputError (usage) for that, naming what to type, and as parse_quantity_of does.
Quantity parse_measured(std::string_view text, std::string_view unit);

}  // namespace tickover
