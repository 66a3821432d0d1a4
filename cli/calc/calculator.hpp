/// @file
/// The table of calculators. Each has a file of its own here; the physics is in engine/gas.
#pragma once

#include <functional>

#include "cli/calc/answer.hpp"

namespace tickover::cli {

struct Calculator {
  std::string name;
  std::string summary;
  std::string example;
  std::vector<Argument> arguments;
  std::function<Answer(const Inputs&)> answer;
};

Calculator air_calculator();
Calculator lambda_calculator();
Calculator fuel_calculator();
Calculator leak_calculator();
Calculator float_calculator();
Calculator jet_calculator();
Calculator delivery_calculator();
Calculator sync_calculator();
Calculator compression_calculator();

/// Two lists of arguments as one.
inline std::vector<Argument> operator+(std::vector<Argument> first,
                                       const std::vector<Argument>& second) {
  first.insert(first.end(), second.begin(), second.end());
  return first;
}

}  // namespace tickover::cli
