/// @file
/// The air outside, as several calculators ask for it.
#pragma once

#include "cli/calc/calculator.hpp"
#include "engine/gas/atmosphere.hpp"

namespace tickover::cli {

/// --altitude, --pressure, --sea-level-pressure, --temperature and --humidity, each behind
/// `prefix`; `where` ends their help: "here".
std::vector<Argument> air_arguments(const std::string& prefix, const std::string& where);

struct OutsideAir {
  Air air;
  std::string told;  ///< "89.9 kPa (standard at 1000 m), 20 degC, humidity 0 %"
};

/// What is not given is that of the standard atmosphere.
/// Failure  InputError (usage) for a pressure that does not fit the altitude.
OutsideAir outside_air(const Inputs& inputs, const std::string& prefix);

}  // namespace tickover::cli
