/// @file
/// What a person probably meant by a value that cannot be, or hardly. Inside evidence only.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "engine/evidence/reading.hpp"

namespace tickover {

/// "did you mean 14.6 mm?", or "" when one slip does not explain `text`, a value that is written
/// without unit in `unit`. Tried in this order: the decimal point one place off, another unit of
/// the dimension (in the order of the table), the point two or three places off; the first value
/// for which `fits` (given SI) holds is named.
std::string probable_slip(std::string_view text, std::string_view unit,
                          const std::function<bool(double)>& fits);

/// The same of a reading: a value within the tolerance before one that would be taken without
/// question. Where `level_known` is false (nothing to compare it with), any plausible one.
std::string probable_slip(std::string_view text, std::string_view unit, const ReadingModel& reading,
                          bool level_known = true);

}  // namespace tickover
