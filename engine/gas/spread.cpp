#include "engine/gas/spread.hpp"

#include <algorithm>

#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr ValidRange kReadings{"number of readings", 2.0, 8.0, "1"};
constexpr double kOddGap = 2.5;  // mean gaps that part the odd one from the others
constexpr ValidRange kSpreadReading{"reading", 0.0, 3000.0, "kPa"};

std::vector<Pressure> without(std::vector<Pressure> readings, std::size_t at) {
  readings.erase(readings.begin() + static_cast<std::ptrdiff_t>(at));
  return readings;
}

}  // namespace

Spread spread_of(const std::vector<Pressure>& readings) {
  require_within(static_cast<double>(readings.size()), kReadings);
  for (const Pressure reading : readings) require_within(reading, kSpreadReading);
  const auto low = std::min_element(readings.begin(), readings.end());
  const auto high = std::max_element(readings.begin(), readings.end());
  const auto place = [&](auto at) { return static_cast<std::size_t>(at - readings.begin()); };
  const double ratio = high->value == 0.0 ? 1.0 : *low / *high;
  return {*low, *high, place(low), place(high), *high - *low, ratio};
}

std::optional<OddCylinder> odd_cylinder(const std::vector<Pressure>& readings) {
  const Spread all = spread_of(readings);
  if (readings.size() < 3 || all.difference.value == 0.0) return std::nullopt;
  const Spread without_lowest = spread_of(without(readings, all.lowest_at));
  const Spread without_highest = spread_of(without(readings, all.highest_at));
  const bool low = without_lowest.difference < without_highest.difference;
  const Spread& others = low ? without_lowest : without_highest;
  const Pressure gap = all.difference - others.difference;
  const double mean_gap = others.difference.value / static_cast<double>(readings.size() - 2);
  if (gap.value < kOddGap * mean_gap) return std::nullopt;
  const std::size_t at = low ? all.lowest_at : all.highest_at;
  return OddCylinder{at, readings[at] - 0.5 * (others.lowest + others.highest)};
}

GaugeUnits in_gauge_units(Pressure difference) {
  const auto in = [&](const char* unit) { return in_unit(quantity(difference), unit); };
  return {in("kPa"), in("mmHg"), in("cmHg"), in("inHg")};
}

}  // namespace tickover
