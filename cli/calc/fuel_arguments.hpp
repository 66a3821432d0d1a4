/// @file
/// Petrol by its ethanol, as several calculators ask for it.
#pragma once

#include "cli/calc/calculator.hpp"
#include "engine/gas/fuel.hpp"

namespace tickover::cli {

inline Argument ethanol_argument(std::string usual) {
  return {"ethanol", "%", 0, 85, "ethanol in the petrol, by volume", std::move(usual)};
}

inline Fuel fuel_of(const Inputs& inputs, const std::string& name = "ethanol") {
  return petrol_with_ethanol(inputs.value<Dimension::fraction>(name));
}

}  // namespace tickover::cli
