#include "cli/calc/fuel_arguments.hpp"
#include "cli/calc/jet_arguments.hpp"

namespace tickover::cli {
namespace {

std::string ethanol_means(double factor) {
  if (factor == 1.0) return "The same fuel: the mixture stays as it was set.";
  return "The carburettor runs " + mixture_in_words(factor) +
         " on it than on the fuel it was set " +
         (factor > 1.0 ? "with: that much leanness is the fuel's, not a fault's." : "with.");
}

Answer fuel_answer(const Inputs& inputs) {
  const Fuel now = fuel_of(inputs), set = fuel_of(inputs, "set-ethanol");
  const double factor = fuel_change_lambda_factor(set, now);
  Answer out;
  out.results = {number_result("air-fuel-ratio", "Air that burns 1 kg of it, in kg",
                               stoichiometric_air_fuel_ratio(now), 4),
                 number_result("set-air-fuel-ratio", "The same of the fuel it was set with",
                               stoichiometric_air_fuel_ratio(set), 4),
                 result("density", "Density at 15 degC", now.density, "kg/m3", 4),
                 change_result("lambda-change", "Lambda, carburettor untouched", factor)};
  add_jet_wanted(inputs, factor, out);
  out.meaning = ethanol_means(factor);
  out.formula =
      "lambda goes with 1 / (air wanted by the fuel * root of its density); air wanted "
      "from its atoms: (1 + h/4 - o/2) O2 for each C";
  out.source =
      "atom balance, IUPAC 2021 atomic weights; Bernoulli's law at the jet; petrol CH1.85, "
      "745 kg/m3 and ethanol 789 kg/m3 (Heywood 1988, CRC Handbook, from memory)";
  out.assumptions = {"viscosity, evaporation and heat of vaporisation left out"};
  return out;
}

}  // namespace

Calculator fuel_calculator() {
  return {"fuel", "Petrol with ethanol: the air it wants, and the lean shift when fuel changes.",
          "--ethanol 10%",
          std::vector<Argument>{
              ethanol_argument("10 %"),
              {"set-ethanol", "%", 0, 85, "ethanol in the petrol it was set with", "0 %"}} +
              jet_arguments(),
          fuel_answer};
}

}  // namespace tickover::cli
