#include "cli/calc/spread_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/print.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kBar = 44;

Result cylinder_result(std::string key, std::string label, std::size_t at) {
  return number_result(std::move(key), std::move(label), static_cast<double>(at + 1));
}

}  // namespace

std::vector<Result> spread_results(const std::vector<Pressure>& readings) {
  const Spread spread = spread_of(readings);
  std::vector<Result> out;
  for (const char* unit : {"kPa", "mmHg", "cmHg", "inHg", "psi", "bar"}) {
    out.push_back(result(std::string("spread-") + unit,
                         out.empty() ? "Spread, highest less lowest" : "", spread.difference,
                         unit));
  }
  out.push_back(result("lowest", fmt::format("Lowest, cylinder {}", spread.lowest_at + 1),
                       spread.lowest, "kPa", 4));
  out.push_back(result("highest", fmt::format("Highest, cylinder {}", spread.highest_at + 1),
                       spread.highest, "kPa", 4));
  const std::optional<OddCylinder> odd = odd_cylinder(readings);
  if (odd) out.push_back(cylinder_result("odd-cylinder", "Cylinder that stands apart", odd->at));
  return out;
}

std::optional<std::string> odd_in_words(const std::vector<Pressure>& readings) {
  const std::optional<OddCylinder> odd = odd_cylinder(readings);
  if (!odd) return std::nullopt;
  const Pressure distance(std::abs(odd->off_by.value));
  return fmt::format("cylinder {} lies {} {} the others", odd->at + 1,
                     format_quantity(quantity(distance), "kPa", 3),
                     odd->off_by.value < 0 ? "below" : "above");
}

std::string readings_picture(const std::vector<Pressure>& readings) {
  const double highest = std::max(spread_of(readings).highest.value, 1.0);
  std::string out;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    out += fmt::format("  cylinder {} {:>14}  {}\n", i + 1,
                       format_quantity(quantity(readings[i]), "kPa", 4),
                       bar(readings[i].value / highest, kBar));
  }
  return out;
}

}  // namespace tickover::cli
