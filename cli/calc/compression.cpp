#include "engine/gas/compression.hpp"

#include "cli/calc/outside_air.hpp"
#include "cli/calc/spread_lines.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

std::vector<Argument> compression_arguments() {
  return std::vector<Argument>{
             {"readings", "kPa", 0, 3000, "compression of each cylinder in order, 12bar,11.5bar",
              "", false, true},
             {"limit", "%", 1, 100, "lowest over highest that is still good", "75 %"},
             {"supply", "kPa", 50, 1000, "leak-down: gauge before the tester's orifice"},
             {"held", "kPa", 0, 1000, "leak-down: gauge behind it, at the cylinder"}} +
         air_arguments("", "here");
}

std::vector<Pressure> at_sea_level(const std::vector<Pressure>& readings, Pressure outside) {
  std::vector<Pressure> out;
  for (const Pressure reading : readings) out.push_back(compression_at_sea_level(reading, outside));
  return out;
}

std::string spread_meaning(const std::vector<Pressure>& readings, double limit) {
  const std::optional<std::string> odd = odd_in_words(readings);
  if (spread_of(readings).lowest_over_highest >= limit) {
    return "Close enough together" + (odd ? ", though " + *odd : "") +
           "; compare the sea-level values with the data sheet.";
  }
  return odd ? "Too far apart: " + *odd +
                   "; repeat with a little oil in it: a rise speaks for rings, none for valves or "
                   "gasket."
             : "Too far apart, with no single cylinder standing out: neighbours that are both low "
               "share a gasket.";
}

void add_compression(const Inputs& inputs, Pressure outside, Answer& out) {
  const auto readings = inputs.values<Dimension::pressure>("readings");
  const std::vector<Pressure> corrected = at_sea_level(readings, outside);
  out.results = spread_results(readings);
  out.results.push_back({"lowest-over-highest",
                         "Lowest over highest",
                         {spread_of(readings).lowest_over_highest, Dimension::fraction},
                         "%"});
  for (std::size_t i = 0; i < corrected.size(); ++i) {
    const std::string number = std::to_string(i + 1);
    out.results.push_back(
        result("sea-level-" + number, "At sea level, cylinder " + number, corrected[i], "kPa", 4));
  }
  out.picture = readings_picture(readings);
  out.meaning = spread_meaning(readings, inputs.value<Dimension::fraction>("limit").value);
}

void add_leak_down(const Inputs& inputs, Pressure outside, Answer& out) {
  const LeakDown reading{inputs.value<Dimension::pressure>("supply"),
                         inputs.value<Dimension::pressure>("held")};
  out.results.push_back(result("leak-down", "Leak-down loss", leak_down_loss(reading), "%"));
  out.results.push_back(result("leak-down-sea-level", "The same at sea level",
                               leak_down_at_sea_level(reading, outside), "%"));
  out.results.push_back(number_result("leak-over-orifice",
                                      "Leak over the tester's orifice, by area",
                                      leak_over_orifice(reading, outside)));
  out.meaning += out.meaning.empty() ? "" : " ";
  out.meaning +=
      "Listen where the leak-down air leaves: carburettor means inlet valve, exhaust pipe "
      "exhaust valve, breather rings.";
}

Answer compression_answer(const Inputs& inputs) {
  const OutsideAir outside = outside_air(inputs, "");
  const bool leak_down = inputs.given("supply") || inputs.given("held");
  Answer out;
  if (inputs.given("readings")) add_compression(inputs, outside.air.pressure, out);
  if (leak_down) add_leak_down(inputs, outside.air.pressure, out);
  if (out.results.empty()) {
    throw InputError(InputFault::usage, "calc compression",
                     "wants --readings, or --supply and --held",
                     "--readings 12bar,11bar,12bar,8bar, one for each cylinder");
  }
  out.formula =
      "at sea level = reading * 101.325 kPa / outside pressure; loss = 1 - held/supply, "
      "carried to sea level by the flow through orifice and leak";
  out.source =
      "polytropic compression (altitude factors of gauge makers, from memory); FAA "
      "Advisory Circular 43.13-1B, 8-14; compressible flow";
  out.assumptions = {"air: " + outside.told, "throttles wide open, engine warm, all plugs out"};
  return out;
}

}  // namespace

Calculator compression_calculator() {
  return {"compression", "Compression and leak-down: spread, the odd cylinder, sea-level values.",
          "--readings 12bar,11bar,12bar,8bar --altitude 1000m", compression_arguments(),
          compression_answer};
}

}  // namespace tickover::cli
