#include "cli/calc/jet_arguments.hpp"
#include "cli/calc/outside_air.hpp"

namespace tickover::cli {
namespace {

std::vector<Result> air_results(const Air& now) {
  const Density density = air_density(now);
  return {result("pressure", "Air pressure here", now.pressure, "kPa", 4),
          result("temperature", "Air temperature here", now.temperature, "degC", 3),
          result("density", "Density of the air here", density, "kg/m3", 5),
          number_result("relative-density", "Density, standard sea level being 1",
                        relative_density(now), 4),
          result("density-altitude", "Standard air is as thin at", density_altitude(density), "m")};
}

std::string density_means(double factor) {
  if (factor == 1.0) return "The air here leaves the mixture as it was set.";
  const std::string change = mixture_in_words(factor);
  if (factor < 1.0) {
    return "The carburettor runs " + change +
           " here than where it was set: thin air cannot be what makes it lean.";
  }
  return "The carburettor runs " + change +
         " here than where it was set: dense air alone does that, with no fault behind it.";
}

Answer air_answer(const Inputs& inputs) {
  const OutsideAir now = outside_air(inputs, ""), set = outside_air(inputs, "set-");
  const double factor = fixed_jet_lambda_factor(set.air, now.air);
  Answer out;
  out.results = air_results(now.air);
  out.results.push_back(
      number_result("lambda-factor", "Lambda here over lambda when set", factor, 4));
  out.results.push_back(
      change_result("fuel-per-air-change", "Fuel for the same air", 1.0 / factor));
  add_jet_wanted(inputs, jet_area_factor(set.air, now.air), out);
  out.meaning = density_means(factor);
  out.formula =
      "lambda goes with the root of the air's density (and its share of dry air); "
      "density = p/(R T), water vapour as a lighter gas";
  out.source =
      "ISO 2533:1975; Dalton's law; Heywood, Internal Combustion Engine Fundamentals "
      "(1988), ch. 7 (from memory)";
  out.assumptions = {"air here: " + now.told, "air where it was set: " + set.told,
                     "jets and needle as set; float bowl vented to the same air"};
  return out;
}

}  // namespace

Calculator air_calculator() {
  return {"air", "Density of the air, and what a carburettor set elsewhere makes of it.",
          "--altitude 1200m --temperature 28degC --jet 120",
          air_arguments("", "here") + air_arguments("set-", "where it was set") + jet_arguments(),
          air_answer};
}

}  // namespace tickover::cli
