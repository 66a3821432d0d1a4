#include "cli/calc/spread_lines.hpp"

namespace tickover::cli {
namespace {

std::vector<Argument> sync_arguments() {
  return {
      {"readings", "kPa", 0, 100, "vacuum of each cylinder in order, 24kPa,26kPa", "", true, true},
      {"limit", "mmHg", 1, 200, "spread that the manual allows", "20 mmHg"}};
}

std::string meaning_of(const std::vector<Pressure>& readings, Pressure limit) {
  if (spread_of(readings).difference <= limit) {
    return "The cylinders lie within the limit: leave the linkage as it is.";
  }
  const std::optional<std::string> odd = odd_in_words(readings);
  if (!odd) {
    return "Outside the limit, and no single cylinder stands apart: set the linkage, once valves, "
           "ignition and air leaks are in order.";
  }
  const bool low = odd_cylinder(readings)->off_by.value < 0;
  return "Outside the limit: " + *odd + "; " +
         (low ? "before touching the linkage rule out an air leak, a tight valve and weak "
                "compression there, which lower its vacuum."
              : "its throttle is closed further than the others, if valves and ignition are "
                "right.");
}

Answer sync_answer(const Inputs& inputs) {
  const auto readings = inputs.values<Dimension::pressure>("readings");
  Answer out;
  out.results = spread_results(readings);
  out.meaning = meaning_of(readings, inputs.value<Dimension::pressure>("limit"));
  out.picture = readings_picture(readings);
  out.formula =
      "highest less lowest; a cylinder is odd when it stands off the others by 2.5 times their "
      "mean "
      "gap or more";
  out.source = "conventional mercury, 13595.1 kg/m3 (ISO 80000-4); own rule for the odd cylinder";
  out.assumptions = {"engine warm, gauges damped alike; synchronising comes last"};
  return out;
}

}  // namespace

Calculator sync_calculator() {
  return {"sync", "Synchronisation: the spread of vacuum in the units of gauges, the odd cylinder.",
          "--readings 24kPa,26kPa,25kPa,21kPa", sync_arguments(), sync_answer};
}

}  // namespace tickover::cli
