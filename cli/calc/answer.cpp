#include "cli/calc/answer.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/print.hpp"
#include "cli/report.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kLabelWidth = 44;

std::string shown(const Result& result) {
  const std::string text = format_quantity(result.value, result.unit, result.digits);
  return result.change && result.value.si > 0 ? "+" + text : text;
}

Json result_json(const Result& result) {
  return {{"value", steady(in_unit(result.value, result.unit))},
          {"unit", result.unit},
          {"si", steady(result.value.si)}};
}

Json cell_json(const Cell& cell) {
  if (const double* number = std::get_if<double>(&cell.second)) return steady(*number);
  if (const std::string* word = std::get_if<std::string>(&cell.second)) return *word;
  return nullptr;
}

Json rows_json(const std::vector<std::vector<Cell>>& rows) {
  Json out = Json::array();
  for (const std::vector<Cell>& row : rows) {
    Json one = Json::object();
    for (const Cell& cell : row) one[cell.first] = cell_json(cell);
    out.push_back(std::move(one));
  }
  return out;
}

std::vector<std::string> all_assumptions(const Inputs& inputs, const Answer& answer) {
  std::vector<std::string> all = inputs.assumed();
  all.insert(all.end(), answer.assumptions.begin(), answer.assumptions.end());
  return all;
}

}  // namespace

Result number_result(std::string key, std::string label, double number, int digits) {
  return {std::move(key), std::move(label), {number, Dimension::number}, "1", digits};
}

Result change_result(std::string key, std::string label, double factor) {
  const int digits = std::abs(factor - 1.0) < 0.01 ? 2 : 3;
  return {std::move(key), std::move(label), {factor - 1.0, Dimension::fraction}, "%", digits, true};
}

std::string change_in_words(double factor) {
  const double percent = 100.0 * std::abs(factor - 1.0);
  const int decimals = percent >= 10.0 ? 0 : percent >= 0.1 ? 1 : 2;
  return fmt::format("{:.{}f} %", percent, decimals);
}

std::string mixture_in_words(double lambda_factor) {
  return lambda_factor >= 1.0 ? change_in_words(lambda_factor) + " leaner"
                              : change_in_words(1.0 / lambda_factor) + " richer";
}

std::string answer_text(const Inputs& inputs, const Answer& answer) {
  std::string out;
  for (const Result& result : answer.results) {
    out += labelled(result.label, shown(result), kLabelWidth);
  }
  out += "\n" + wrapped(answer.meaning, 0) + "\n";
  if (!answer.picture.empty()) out += answer.picture + "\n";
  out += labelled("Formula", answer.formula, 9) + labelled("Source", answer.source, 9);
  const std::vector<std::string> assumptions = all_assumptions(inputs, answer);
  return out + (assumptions.empty() ? "" : "\nAssumed\n" + bullets(assumptions));
}

Json answer_json(const std::string& calculator, const Inputs& inputs, const Answer& answer) {
  Json results = Json::object();
  for (const Result& result : answer.results) results[result.key] = result_json(result);
  Json out = {{"report", "calc"},
              {"format", 1},
              {"calculator", calculator},
              {"inputs", inputs.json()},
              {"results", results},
              {"meaning", answer.meaning},
              {"formula", answer.formula},
              {"source", answer.source},
              {"assumptions", all_assumptions(inputs, answer)}};
  if (!answer.rows.empty()) out["rows"] = rows_json(answer.rows);
  return out;
}

}  // namespace tickover::cli
