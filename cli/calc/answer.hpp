/// @file
/// What a calculator answers, and how that looks on a terminal and as JSON.
#pragma once

#include <variant>

#include "cli/calc/argument.hpp"

namespace tickover::cli {

/// One number of the answer.
struct Result {
  std::string key, label;
  Quantity value;
  std::string unit;
  int digits = 3;
  bool change = false;  ///< shown with its sign
};

/// A cell of a table by its name in JSON; none where it does not apply.
using Cell = std::pair<std::string, std::variant<std::monostate, double, std::string>>;

/// The answer of a calculator. `picture` is a table or chart; `rows` the same as data.
struct Answer {
  std::vector<Result> results;
  std::string meaning;  ///< one plain sentence for the mechanic
  std::string formula, source;
  std::vector<std::string> assumptions = {};
  std::string picture = {};
  std::vector<std::vector<Cell>> rows = {};
};

template <Dimension D>
Result result(std::string key, std::string label, Si<D> value, std::string unit, int digits = 3) {
  return {std::move(key), std::move(label), quantity(value), std::move(unit), digits};
}

Result number_result(std::string key, std::string label, double number, int digits = 3);
/// A factor as change: 1.08 is "+8 %".
Result change_result(std::string key, std::string label, double factor);

/// "8.9 %": a factor's distance from one, without sign.
std::string change_in_words(double factor);
/// "8.9 % leaner" for a lambda factor of 1.089; "9.8 % richer" (more fuel for the air) for 0.911.
std::string mixture_in_words(double lambda_factor);

std::string answer_text(const Inputs& inputs, const Answer& answer);
Json answer_json(const std::string& calculator, const Inputs& inputs, const Answer& answer);

}  // namespace tickover::cli
