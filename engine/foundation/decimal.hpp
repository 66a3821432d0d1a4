/// @file
/// A number at the start of a text, as people write it.
#pragma once

#include <string>
#include <string_view>

namespace tickover {

/// The number and what follows it, blanks trimmed.
struct Decimal {
  double value;
  std::string rest;
};

/// Reads a leading number: "14.6", "14,6", "-3", "1.2e5", "3/4", "2 3/4". No locale is consulted.
/// Throws InputError (usage) when there is none, when it is not finite, when a comma could part
/// thousands as well as decimals ("1,100"), and for a fraction without sense ("2 4/3", "1/0").
Decimal parse_decimal(std::string_view text);

/// `text` without the blanks around it.
std::string_view trimmed(std::string_view text);

}  // namespace tickover
