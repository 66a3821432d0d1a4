/// @file
/// The spread over cylinders, as sync and compression tell it.
#pragma once

#include <optional>

#include "cli/calc/calculator.hpp"
#include "engine/gas/spread.hpp"

namespace tickover::cli {

/// Lowest, highest and their difference in the units of gauges; the odd cylinder if there is one.
std::vector<Result> spread_results(const std::vector<Pressure>& readings);

/// "cylinder 4 lies 4 kPa below the others"; none without an odd one.
std::optional<std::string> odd_in_words(const std::vector<Pressure>& readings);

/// One line with a bar for each cylinder.
std::string readings_picture(const std::vector<Pressure>& readings);

}  // namespace tickover::cli
