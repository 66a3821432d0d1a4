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
/// Likewise what was probably meant lies between these.
constexpr double kLikelyFrom = 0.1, kLikelyTo = 0.7;

/// The number alone, in the sheet's unit.
std::string number_of(const Wanted& wanted) {
  return fmt::format("{:.6g}", in_unit(wanted.value, wanted.unit));
}

std::string unit_after(const std::string& unit) { return unit == "1" ? "" : " " + unit; }

std::optional<OddFigure> oddity(const std::string& key, const Wanted& wanted,
                                const pack::Finding& reading) {
  const double low = quantity_in(reading.plausible_low, reading.unit).si,
               high = quantity_in(reading.plausible_high, reading.unit).si, value = wanted.value.si;
  const std::string told = number_of(wanted) + unit_after(wanted.unit);
  const auto likely = [&](double one) {
    return one >= kLikelyFrom * high && one <= kLikelyTo * high;
  };
  const std::string meant = probable_slip(number_of(wanted), wanted.unit, likely);
  if (value < low || value > high) {
    return OddFigure{
        key,
        fmt::format("{} is beyond what can be: {:g} to {:g}{}", told, reading.plausible_low,
                    reading.plausible_high, unit_after(reading.unit)),
        meant};
  }
  if (low < 0) return std::nullopt;  // on either side of nothing, small and wide is as good
  if (value < kLeastShare * high && wanted.tolerance > value) {
    return OddFigure{key, told + " is next to nothing for '" + key + "'", meant, true};
  }
  if (wanted.tolerance <= value) return std::nullopt;
  return OddFigure{key, "the tolerance of '" + key + "' is larger than its value, " + told,
                   "it is how far off is still in order", true};
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
