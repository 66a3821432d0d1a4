/// @file
/// Quantities with units: what a person writes ("14,6 mm"), what the engine computes with (SI).
#pragma once

#include <compare>
#include <string>
#include <string_view>
#include <vector>

namespace tickover {

/// What is measured. SI base in brackets; a unit belongs to exactly one dimension.
enum class Dimension {
  number,                ///< counts and ratios, lambda among them [1]
  fraction,              ///< shares: per cent, parts per million [1]
  length,                ///< [m]
  area,                  ///< [m2]
  volume,                ///< [m3]
  angle,                 ///< screws and crank [rad]; one turn of a screw is 2 pi
  time,                  ///< [s]
  frequency,             ///< also rotational: 60 rpm is 1 per second [1/s]
  velocity,              ///< [m/s]
  temperature,           ///< [K]
  pressure,              ///< absolute, gauge or difference: the caller says which [Pa]
  mass,                  ///< [kg]
  density,               ///< [kg/m3]
  power,                 ///< [W]
  volume_flow,           ///< [m3/s]
  mass_flow,             ///< [kg/s]
  specific_consumption,  ///< fuel mass per work at the crankshaft [kg/J]
  voltage,               ///< [V]
  resistance,            ///< [ohm]
};

/// The dimension in words: "length", "volume flow".
std::string dimension_name(Dimension dimension);

/// A value in SI units, with its dimension known at run time only.
struct Quantity {
  double si = 0.0;
  Dimension dimension = Dimension::number;
  bool operator==(const Quantity&) const = default;
};

/// A value in SI units whose dimension the compiler checks: a Length never passes for a Pressure.
template <Dimension D>
struct Si {
  double value = 0.0;

  constexpr Si() = default;
  constexpr explicit Si(double si) : value(si) {}
  // NOLINTNEXTLINE(modernize-use-nullptr): false alarm
  constexpr auto operator<=>(const Si&) const = default;

  friend constexpr Si operator+(Si a, Si b) { return Si(a.value + b.value); }
  friend constexpr Si operator-(Si a, Si b) { return Si(a.value - b.value); }
  friend constexpr Si operator*(double factor, Si a) { return Si(factor * a.value); }
  friend constexpr double operator/(Si a, Si b) { return a.value / b.value; }
};

using Angle = Si<Dimension::angle>;
using Area = Si<Dimension::area>;
using Density = Si<Dimension::density>;
using Fraction = Si<Dimension::fraction>;
using Frequency = Si<Dimension::frequency>;
using Length = Si<Dimension::length>;
using Mass = Si<Dimension::mass>;
using MassFlow = Si<Dimension::mass_flow>;
using Power = Si<Dimension::power>;
using Pressure = Si<Dimension::pressure>;
using SpecificConsumption = Si<Dimension::specific_consumption>;
using Temperature = Si<Dimension::temperature>;
using Time = Si<Dimension::time>;
using Velocity = Si<Dimension::velocity>;
using Volume = Si<Dimension::volume>;
using VolumeFlow = Si<Dimension::volume_flow>;

/// Reads "14.6mm", "14,6 mm", "2 3/4 turns", "68 °F", "340 ml/min".
/// Number   sign, decimal point or comma, exponent, or whole number and fraction. A comma before
///          exactly three digits ("1,100") could mean either and is refused.
/// Unit     any spelling in the table; blanks inside it do not count ("mm Hg"), nor does letter
///          case, except m and M as first letter (milli and mega). Without a unit `default_unit`
///          holds; when that is empty too, the text is refused.
/// Failure  InputError (usage) naming the bad part and the nearest unit; also for a number that is
///          not finite and for a temperature below absolute zero.
Quantity parse_quantity(std::string_view text, std::string_view default_unit = {});

/// As parse_quantity, and refuses any dimension but `wanted`, naming units that would do.
Quantity parse_quantity_of(Dimension wanted, std::string_view text,
                           std::string_view default_unit = {});

/// Throws InputError (usage) unless `quantity` has the dimension `wanted`.
void require_dimension(const Quantity& quantity, Dimension wanted);

/// The quantity as typed value. Throws InputError (usage) for another dimension.
template <Dimension D>
Si<D> typed(const Quantity& quantity) {
  require_dimension(quantity, D);
  return Si<D>(quantity.si);
}

/// The typed value as quantity.
template <Dimension D>
constexpr Quantity quantity(Si<D> value) {
  return {value.value, D};
}

/// parse_quantity_of for a dimension known to the compiler: parse<Dimension::length>("14.6 mm").
template <Dimension D>
Si<D> parse(std::string_view text, std::string_view default_unit = {}) {
  return Si<D>(parse_quantity_of(D, text, default_unit).si);
}

/// `value` in `unit` as a quantity: quantity_in(14.6, "mm"). Throws InputError (usage) as
/// parse_quantity does.
Quantity quantity_in(double value, std::string_view unit);

/// The number of `unit`s in the quantity. Throws InputError (usage) for a unit that is not known or
/// is of another dimension.
double in_unit(const Quantity& quantity, std::string_view unit);

/// A difference (deviation, tolerance, spread) in SI: 2 degC apart is 2 K apart, not 275.15 K.
double difference_to_si(double difference, std::string_view unit);

/// The inverse of difference_to_si.
double difference_in_unit(double si_difference, std::string_view unit);

/// "14.6 mm": at most `significant_digits` digits (whole digits are never dropped), no trailing
/// zeros, the unit as spelt by the caller (nothing for the unit "1"). Throws as in_unit does.
std::string format_quantity(const Quantity& quantity, std::string_view unit,
                            int significant_digits = 6);

/// The dimension a unit belongs to. Throws InputError (usage) for a unit that is not known.
Dimension dimension_of(std::string_view unit);

bool known_unit(std::string_view unit);

/// The units of one dimension by their first name, in the order of the table.
std::vector<std::string> known_units(Dimension dimension);

/// The first names of all units, in the order of the table.
std::vector<std::string> all_units();

}  // namespace tickover
