#include "engine/foundation/units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>

#include "engine/foundation/decimal.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/unit_table.hpp"

namespace tickover {
namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// Equal but for the case of letters, and no milli taken for mega.
bool same_but_for_case(std::string_view word, std::string_view name) {
  const bool prefix_differs = lower(word[0]) == 'm' && word[0] != name[0];
  return !prefix_differs && std::equal(word.begin(), word.end(), name.begin(), name.end(),
                                       [](char a, char b) { return lower(a) == lower(b); });
}

std::string without_blanks(std::string_view text) {
  std::string word;
  std::copy_if(text.begin(), text.end(), std::back_inserter(word), [](char c) { return c != ' '; });
  return word;
}

std::vector<std::string_view> spellings(const Unit& unit) {
  std::vector<std::string_view> names;
  for (std::size_t begin = 0; begin < unit.names.size();) {
    const std::size_t end = std::min(unit.names.find(' ', begin), unit.names.size());
    names.push_back(unit.names.substr(begin, end - begin));
    begin = end + 1;
  }
  return names;
}

/// Every spelling with its unit, in the order of the table.
const std::vector<std::pair<std::string_view, const Unit*>>& units_by_spelling() {
  static const auto all = [] {
    std::vector<std::pair<std::string_view, const Unit*>> spelt;
    for (const Unit& unit : unit_table()) {
      for (const std::string_view name : spellings(unit)) spelt.emplace_back(name, &unit);
    }
    return spelt;
  }();
  return all;
}

std::string first_name(const Unit& unit) {
  return std::string(unit.names.substr(0, unit.names.find(' ')));
}

template <typename Matches>
const Unit* find_where(Matches matches) {
  for (const auto& [name, unit] : units_by_spelling()) {
    if (matches(name)) return unit;
  }
  return nullptr;
}

const Unit* find_unit(std::string_view text) {
  static const std::map<std::string_view, const Unit*> exact(units_by_spelling().begin(),
                                                             units_by_spelling().end());
  const std::string word = without_blanks(text);
  if (word.empty()) return nullptr;
  if (const auto unit = exact.find(word); unit != exact.end()) return unit->second;
  return find_where([&](std::string_view name) { return same_but_for_case(word, name); });
}

std::vector<std::string> all_spellings() {
  std::vector<std::string> names;
  for (const auto& [name, unit] : units_by_spelling()) names.emplace_back(name);
  return names;
}

/// "MM" is as near to "mm" as can be, though every letter differs.
std::vector<std::string> candidates_for(const std::string& word) {
  std::string lowered = word;
  std::transform(lowered.begin(), lowered.end(), lowered.begin(), lower);
  if (find_unit(lowered) != nullptr) return {lowered};
  return all_spellings();
}

InputError unknown_unit(std::string_view text) {
  const std::string word = without_blanks(text);
  const std::vector<std::string> candidates = candidates_for(word);
  if (candidates.size() > 1) return unknown_name(InputFault::usage, {}, "unit", word, candidates);
  return InputError(InputFault::usage, {}, "no unit named '" + printable(word) + "'",
                    "nearest: " + candidates.front());
}

const Unit& unit_named(std::string_view text) {
  const Unit* unit = find_unit(text);
  if (unit == nullptr) throw unknown_unit(text);
  return *unit;
}

std::string examples(Dimension dimension) {
  std::string list;
  for (const std::string& name : known_units(dimension)) {
    list += (list.empty() ? "" : ", ") + name;
  }
  return list;
}

/// "a pressure", "an area".
std::string one(Dimension dimension) {
  const std::string name = dimension_name(dimension);
  return (name[0] == 'a' ? "an " : "a ") + name;
}

InputError wrong_dimension(const std::string& found, Dimension has, Dimension wanted) {
  if (wanted == Dimension::number) {
    return InputError(InputFault::usage, {}, found + " is " + one(has) + ", not a number",
                      "write the number without unit");
  }
  return InputError(InputFault::usage, {}, found + " is " + one(has) + ", not " + one(wanted),
                    "units of " + dimension_name(wanted) + ": " + examples(wanted));
}

Quantity convert(double value, const Unit& unit, std::string_view text) {
  const double si = value * unit.factor + unit.offset;
  if (!std::isfinite(si)) {
    throw InputError(InputFault::usage, {}, "'" + printable(text) + "' is not a finite number");
  }
  if (unit.dimension == Dimension::temperature && si < 0.0) {
    throw InputError(InputFault::usage, {}, "'" + printable(text) + "' is below absolute zero",
                     "absolute zero is -273.15 degC or -459.67 degF");
  }
  return {si, unit.dimension};
}

std::string without_trailing_zeros(std::string digits) {
  if (digits.find('.') == std::string::npos) return digits;
  digits.erase(digits.find_last_not_of('0') + 1);
  if (digits.back() == '.') digits.pop_back();
  return digits == "-0" ? "0" : digits;
}

std::string shortest(double value, int significant_digits) {
  if (!std::isfinite(value)) return fmt::format("{}", value);
  const double magnitude = value == 0.0 ? 0.0 : std::floor(std::log10(std::abs(value)));
  const int decimals = std::clamp(significant_digits - 1 - static_cast<int>(magnitude), 0, 17);
  return without_trailing_zeros(fmt::format("{:.{}f}", value, decimals));
}

}  // namespace

std::string dimension_name(Dimension dimension) {
  switch (dimension) {
    case Dimension::number:
      return "number";
    case Dimension::fraction:
      return "fraction";
    case Dimension::length:
      return "length";
    case Dimension::area:
      return "area";
    case Dimension::volume:
      return "volume";
    case Dimension::angle:
      return "angle";
    case Dimension::time:
      return "time";
    case Dimension::frequency:
      return "frequency";
    case Dimension::velocity:
      return "velocity";
    case Dimension::temperature:
      return "temperature";
    case Dimension::pressure:
      return "pressure";
    case Dimension::mass:
      return "mass";
    case Dimension::density:
      return "density";
    case Dimension::power:
      return "power";
    case Dimension::volume_flow:
      return "volume flow";
    case Dimension::mass_flow:
      return "mass flow";
    case Dimension::specific_consumption:
      return "specific consumption";
    case Dimension::voltage:
      return "voltage";
    case Dimension::resistance:
      return "resistance";
  }
  assert(false);
  return {};
}

Quantity parse_quantity(std::string_view text, std::string_view default_unit) {
  const Decimal decimal = parse_decimal(text);
  if (!decimal.rest.empty()) return convert(decimal.value, unit_named(decimal.rest), text);
  if (!default_unit.empty()) return convert(decimal.value, unit_named(default_unit), text);
  const std::string number = shortest(decimal.value, 6);
  throw InputError(InputFault::usage, {}, "'" + printable(text) + "' has no unit",
                   "write it with its unit, such as " + number + " mm or " + number + " kPa");
}

Quantity parse_quantity_of(Dimension wanted, std::string_view text, std::string_view default_unit) {
  const Quantity read = parse_quantity(text, default_unit);
  if (read.dimension == wanted) return read;
  throw wrong_dimension("'" + printable(text) + "'", read.dimension, wanted);
}

void require_dimension(const Quantity& quantity, Dimension wanted) {
  if (quantity.dimension == wanted) return;
  throw wrong_dimension("the value", quantity.dimension, wanted);
}

Quantity quantity_in(double value, std::string_view unit) {
  return convert(value, unit_named(unit), shortest(value, 6) + " " + std::string(unit));
}

double in_unit(const Quantity& quantity, std::string_view unit) {
  const Unit& row = unit_named(unit);
  if (row.dimension != quantity.dimension) {
    throw wrong_dimension("'" + first_name(row) + "'", row.dimension, quantity.dimension);
  }
  return (quantity.si - row.offset) / row.factor;
}

double difference_to_si(double difference, std::string_view unit) {
  return difference * unit_named(unit).factor;
}

double difference_in_unit(double si_difference, std::string_view unit) {
  return si_difference / unit_named(unit).factor;
}

std::string format_quantity(const Quantity& quantity, std::string_view unit,
                            int significant_digits) {
  const std::string number = shortest(in_unit(quantity, unit), significant_digits);
  return unit == "1" ? number : number + " " + std::string(unit);
}

Dimension dimension_of(std::string_view unit) { return unit_named(unit).dimension; }

bool known_unit(std::string_view unit) { return find_unit(unit) != nullptr; }

std::vector<std::string> known_units(Dimension dimension) {
  std::vector<std::string> names;
  for (const Unit& unit : unit_table()) {
    if (unit.dimension == dimension) names.push_back(first_name(unit));
  }
  return names;
}

std::vector<std::string> all_units() {
  std::vector<std::string> names;
  for (const Unit& unit : unit_table()) names.push_back(first_name(unit));
  return names;
}

}  // namespace tickover
