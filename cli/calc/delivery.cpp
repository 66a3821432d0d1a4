#include "engine/gas/delivery.hpp"

#include "cli/calc/fuel_arguments.hpp"

namespace tickover::cli {
namespace {

std::vector<Argument> delivery_arguments() {
  return {{"flow", "ml", 1, 5000, "fuel caught in the measuring cup", "", true},
          {"in", "s", 1, 3600, "time it took", "", true},
          {"power", "kW", 0.5, 250, "engine's full power", "", true},
          {"consumption", "g/kWh", 200, 800, "specific consumption at full power", "300 g/kWh"},
          {"reserve", "%", 0, 300, "reserve wanted above the need", "50 %"},
          ethanol_argument("0 %")};
}

std::string meaning_of(double ratio, double reserve) {
  if (ratio < 1.0) {
    return "The bowls run dry at full power: look at tap, filter, hoses and the tank's vent.";
  }
  if (ratio < 1.0 + reserve) {
    return "It covers full power, with less reserve than wanted: tap, filter or tank vent may be "
           "on their way to block.";
  }
  return "Enough fuel reaches the carburettors for full power.";
}

Answer delivery_answer(const Inputs& inputs) {
  const VolumeFlow given =
      measured_flow(inputs.value<Dimension::volume>("flow"), inputs.value<Dimension::time>("in"));
  const VolumeFlow wanted = fuel_wanted(
      inputs.value<Dimension::power>("power"),
      inputs.value<Dimension::specific_consumption>("consumption"), fuel_of(inputs).density);
  const double ratio = delivery_ratio(given, wanted);
  Answer out;
  out.results = {result("given", "Fuel the tap gives", given, "ml/min", 4),
                 result("wanted", "Fuel wanted at full power", wanted, "ml/min", 4),
                 number_result("ratio", "Given over wanted", ratio)};
  out.meaning = meaning_of(ratio, inputs.value<Dimension::fraction>("reserve").value);
  out.formula = "wanted = power * specific consumption / density; given = volume / time";
  out.source = "definition of brake specific fuel consumption";
  out.assumptions = {"measured steady, with the fuel as low in the tank as it will be ridden"};
  return out;
}

}  // namespace

Calculator delivery_calculator() {
  return {"delivery", "Fuel the tap gives against fuel the engine wants at full power.",
          "--flow 250ml --in 40s --power 50kW", delivery_arguments(), delivery_answer};
}

}  // namespace tickover::cli
