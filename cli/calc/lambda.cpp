#include <cmath>

#include "cli/calc/fuel_arguments.hpp"
#include "engine/gas/exhaust.hpp"

namespace tickover::cli {
namespace {

std::vector<Argument> lambda_arguments() {
  return {{"co", "%", 0, 16, "CO in the dry gas", "", true},
          {"co2", "%", 0, 20, "CO2 in the dry gas", "", true},
          {"o2", "%", 0, 21, "O2 in the dry gas", "", true},
          {"hc", "ppm", 0, 40000, "HC, unburnt fuel", "", true},
          {"no", "ppm", 0, 10000, "NO in the dry gas", "0 ppm"},
          choice("hc-as", {"hexane", "propane"}, "what the analyser shows HC as"),
          ethanol_argument("0 %"),
          {"resolution", "1", 0, 0.2, "step of lambda that you trust", "0.02"},
          {"tolerance", "%", 0, 20, "how far the gases may fail to add up", "5 %"}};
}

ExhaustGas gas_of(const Inputs& inputs) {
  const auto share = [&](const char* name) { return inputs.value<Dimension::fraction>(name); };
  const bool propane = inputs.word("hc-as") == "propane";
  return {share("co"), share("co2"),
          share("o2"), share("hc"),
          share("no"), propane ? HydrocarbonScale::propane : HydrocarbonScale::hexane};
}

std::string lean_meaning(const ExhaustCheck& check, double resolution) {
  if (lean_reading_doubtful(check, resolution)) {
    return "The lean reading proves nothing yet: without the outside air the gas would be rich; "
           "make the exhaust tight, shut secondary air, push the probe in, and measure again.";
  }
  return "The charge is lean or just right with air let into the exhaust, not rich: if the exhaust "
         "is tight and secondary air shut, it is truly lean.";
}

std::string meaning_of(const ExhaustCheck& check, double resolution, double tolerance) {
  if (std::abs(check.balance - 1.0) > tolerance) {
    return "The gases do not add up: check the analyser's zero, leak test and CO and CO2 cells "
           "before believing any of this.";
  }
  if (check.lambda > 1.0 + resolution) return lean_meaning(check, resolution);
  if (check.lambda < 1.0 - resolution) {
    return "The charge is rich, and outside air would only hide how rich.";
  }
  return check.diluted_lambda < 1.0 - resolution ? "The gas reads about right, but it may be a "
                                                   "rich charge with air let into the exhaust."
                                                 : "The mixture is about right.";
}

Answer lambda_answer(const Inputs& inputs) {
  const ExhaustGas gas = gas_of(inputs);
  const ExhaustCheck check = check_exhaust(gas, fuel_of(inputs));
  Answer out;
  out.results = {
      number_result("lambda", "Lambda of the gas at the probe", check.lambda, 4),
      number_result("regulation-lambda", "The same by an emission tester's constants",
                    exhaust_lambda(gas, kRegulationPetrol), 4),
      number_result("undiluted-lambda", "Lambda if spare oxygen is outside air",
                    check.diluted_lambda, 4),
      result("outside-air", "Outside air in the sample, at most", check.outside_air, "%", 2),
      result("undiluted-co2", "CO2 without that air", check.undiluted_co2, "%"),
      number_result("balance", "Sum of all gases, 1 in a right analyser", check.balance, 3)};
  out.meaning = meaning_of(check, inputs.number("resolution"),
                           inputs.value<Dimension::fraction>("tolerance").value);
  out.formula =
      "{CO2 + CO/2 + O2 + NO/2 + [h/4 * 3.5/(3.5 + CO/CO2) - o/2] (CO2 + CO)} / "
      "{(1 + h/4 - o/2) (CO2 + CO + k HC)}, k = 6 for hexane, 3 for propane";
  out.source =
      "Brettschneider, Bosch Technische Berichte 6 (1979) 4, 177-186; constants 3.5, "
      "1.7261 and 0.0175 from memory; consistency: own atom balance, tested by construction";
  out.assumptions = {"dry gas, shares by volume; the pipe serves cylinders of equal mixture"};
  return out;
}

}  // namespace

Calculator lambda_calculator() {
  return {"lambda", "Lambda from the gas analyser, and whether the reading can be believed.",
          "--co 1.2% --co2 13% --o2 2.6% --hc 180ppm", lambda_arguments(), lambda_answer};
}

}  // namespace tickover::cli
