#include "engine/gas/spread.hpp"

#include <algorithm>

#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr ValidRange kReadings{"number of readings", 2.0, 8.0, "1"};
constexpr ValidRange kReading{"reading", 0.0, 3000.0, "kPa"};

}  // namespace

Spread spread_of(const std::vector<Pressure>& readings) {
  require_within(static_cast<double>(readings.size()), kReadings);
  for (const Pressure reading : readings) require_within(reading, kReading);
  const auto low = std::min_element(readings.begin(), readings.end());
  const auto high = std::max_element(readings.begin(), readings.end());
  const auto place = [&](auto at) { return static_cast<std::size_t>(at - readings.begin()); };
  const double ratio = high->value == 0.0 ? 1.0 : *low / *high;
  return {*low, *high, place(low), place(high), *high - *low, ratio};
}

GaugeUnits in_gauge_units(Pressure difference) {
  const auto in = [&](const char* unit) { return in_unit(quantity(difference), unit); };
  return {in("kPa"), in("mmHg"), in("cmHg"), in("inHg")};
}

}  // namespace tickover
