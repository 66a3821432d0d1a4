#include "engine/evidence/figures.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/evidence/slip.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"

namespace tickover {
namespace {

/// What can be read as nothing is nothing on no sheet: of the highest that can be read.
constexpr double kLeastShare = 0.02;

/// The number alone, in the sheet's unit.
std::string number_of(const Wanted& wanted) {
  return fmt::format("{:.6g}", in_unit(wanted.value, wanted.unit));
}

std::optional<OddFigure> oddity(const std::string& key, const Wanted& wanted,
                                const pack::Finding& reading) {
  const double least =
      reading.plausible_low == 0 ? kLeastShare * reading.plausible_high : reading.plausible_low;
  const double low = quantity_in(least, reading.unit).si,
               high = quantity_in(reading.plausible_high, reading.unit).si;
  const auto fits = [&](double value) { return value >= low && value <= high; };
  const auto likely = [&](double value) { return value >= 0.1 * high && value <= 0.7 * high; };
  const std::string unit = wanted.unit == "1" ? "" : " " + wanted.unit;
  const std::string value = number_of(wanted) + unit;
  if (!fits(wanted.value.si)) {
    return OddFigure{
        key,
        fmt::format("{} is beyond what can be: {:g} to {:g}{}", value, least,
                    reading.plausible_high, reading.unit == "1" ? "" : " " + reading.unit),
        probable_slip(number_of(wanted), wanted.unit, likely)};
  }
  if (wanted.tolerance >= wanted.value.si && wanted.value.si > 0) {
    return OddFigure{key, "its tolerance is as large as the value itself, " + value,
                     "the tolerance is how far off is still in order"};
  }
  return std::nullopt;
}

}  // namespace

std::vector<OddFigure> odd_figures(const Model& model) {
  std::vector<OddFigure> all;
  std::vector<std::string> known;
  for (const pack::Finding& finding : model.pack.findings) {
    if (!finding.nominal.empty()) known.push_back(finding.nominal);
  }
  for (const auto& [key, wanted] : model.machine.wanted) {
    const auto reading =
        std::find_if(model.pack.findings.begin(), model.pack.findings.end(),
                     [&](const pack::Finding& finding) { return finding.nominal == key; });
    if (reading == model.pack.findings.end()) {
      const std::string near = nearest(key, known);
      if (near.empty() || !is_slip(key, near)) continue;  // a figure for the mechanic's own use
      all.push_back({key, "nothing in the pack is judged by the figure '" + key + "'",
                     "nearest: " + near, true});
    } else if (auto odd = oddity(key, wanted, *reading)) {
      all.push_back(std::move(*odd));
    }
  }
  return all;
}

}  // namespace tickover
