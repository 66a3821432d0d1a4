#include <fmt/format.h>

#include "cli/calc/fuel_arguments.hpp"
#include "engine/foundation/error.hpp"
#include "engine/gas/float_level.hpp"

namespace tickover::cli {
namespace {

std::vector<Argument> float_arguments() {
  return {
      {"float-change", "mm", -10, 10, "float height less the height wanted; more hangs lower"},
      {"level-change", "mm", -30, 30, "rise of the fuel level itself, in place of --float-change"},
      {"pin-to-reading", "mm", 5, 80, "from the float's hinge pin to where its height is read",
       "35 mm"},
      {"pin-to-centre", "mm", 5, 80, "from the hinge pin to the middle of the float", "25 mm"},
      {"idle-signal", "Pa", 1, 60000, "depression at the idle jet, behind its air bleed",
       "2000 Pa"},
      {"idle-lip", "mm", -20, 50, "idle jet's outlet above the right fuel level", "10 mm"},
      {"main-signal", "Pa", 1, 60000, "depression where the main circuit has just begun to flow",
       "150 Pa"},
      {"open-signal", "Pa", 1, 60000, "depression at the main outlet wide open", "5000 Pa"},
      {"main-lip", "mm", -20, 50, "main outlet above the right fuel level", "6 mm"},
      ethanol_argument("0 %")};
}

Length level_change_of(const Inputs& inputs) {
  if (inputs.given("float-change") == inputs.given("level-change")) {
    throw InputError(InputFault::usage, "calc float",
                     "wants either --float-change or --level-change",
                     "--float-change 1.5mm is a float height 1.5 mm above the one wanted");
  }
  if (inputs.given("level-change")) return inputs.value<Dimension::length>("level-change");
  return fuel_level_change(inputs.value<Dimension::length>("float-change"),
                           {inputs.value<Dimension::length>("pin-to-reading"),
                            inputs.value<Dimension::length>("pin-to-centre")});
}

/// One circuit at one running condition.
struct Row {
  std::string key, name;
  Pressure signal;
  LevelEffect effect;
};

std::vector<Row> rows_of(const Inputs& inputs, Length level) {
  std::vector<Row> rows;
  const auto add = [&](const char* key, const char* name, const char* signal, const char* lip) {
    const FuelCircuit circuit{inputs.value<Dimension::pressure>(signal),
                              inputs.value<Dimension::length>(lip), fuel_of(inputs).density};
    rows.push_back({key, name, circuit.signal, level_effect(circuit, level)});
  };
  add("idle", "idle", "idle-signal", "idle-lip");
  add("main-beginning", "main circuit, just flowing", "main-signal", "main-lip");
  add("main-open", "main circuit, wide open", "open-signal", "main-lip");
  return rows;
}

std::string mixture_of(const Row& row) {
  return row.effect.lambda_factor ? mixture_in_words(*row.effect.lambda_factor)
                                  : "fuel no longer reaches the outlet";
}

std::string table_of(const std::vector<Row>& rows) {
  std::string out =
      "                              signal  left after the lift\n"
      "                                        before      after  mixture\n";
  for (const Row& row : rows) {
    out += fmt::format("  {:<26} {:>5.0f} Pa   {:>5.0f} Pa   {:>5.0f} Pa  {}\n", row.name,
                       row.signal.value, row.effect.head_before.value, row.effect.head_after.value,
                       mixture_of(row));
  }
  return out;
}

std::vector<Cell> cells_of(const Row& row) {
  Cell factor{"lambda-factor", {}};
  if (row.effect.lambda_factor) factor.second = *row.effect.lambda_factor;
  return {{"circuit", row.key},
          {"signal-Pa", row.signal.value},
          {"head-before-Pa", row.effect.head_before.value},
          {"head-after-Pa", row.effect.head_after.value},
          factor};
}

std::string meaning_of(Length level, const std::vector<Row>& rows) {
  if (level.value == 0.0) return "The level is right: the float does nothing to the mixture.";
  const std::string way = level.value < 0 ? "lower" : "higher";
  return "The fuel stands " + way + ": " + mixture_of(rows[1]) +
         " where the main circuit takes over, " + mixture_of(rows[0]) + " at idle and " +
         mixture_of(rows[2]) + " wide open, as long as the fuel supply keeps up.";
}

Answer float_answer(const Inputs& inputs) {
  const Length level = level_change_of(inputs);
  const std::vector<Row> rows = rows_of(inputs, level);
  Answer out;
  Result change = result("level-change", "Change of the fuel level", level, "mm");
  change.change = true;
  Result head = result("head-change", "Change of the signal that moves fuel",
                       fuel_head(level, fuel_of(inputs).density), "Pa");
  head.change = true;
  out.results = {change, head};
  for (const Row& row : rows) {
    if (!row.effect.lambda_factor) continue;
    out.results.push_back(change_result(row.key + "-lambda-change", "Lambda, " + row.name,
                                        *row.effect.lambda_factor));
  }
  out.meaning = meaning_of(level, rows);
  out.picture = table_of(rows);
  for (const Row& row : rows) out.rows.push_back(cells_of(row));
  out.formula =
      "level change = -float change * (pin to centre) / (pin to reading); lambda goes "
      "with root(signal before / signal after), each less density * g * height of the lip";
  out.source =
      "lever at the hinge; Bernoulli's law with hydrostatic head, textbook exercise 8.5 "
      "(Scilab-TBC-Uploads, book 443)";
  out.assumptions = {
      "height read tilted, until the tang just touches the needle's pin without "
      "pressing it; air unchanged"};
  return out;
}

}  // namespace

Calculator float_calculator() {
  return {"float", "Float height or fuel level, and what a wrong one does to the mixture.",
          "--float-change 1.5mm", float_arguments(), float_answer};
}

}  // namespace tickover::cli
