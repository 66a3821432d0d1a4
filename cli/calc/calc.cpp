#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/calc/calculator.hpp"
#include "cli/command.hpp"
#include "cli/exit_status.hpp"
#include "cli/report.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

/// What a formula refuses came from the command line: values that do not go together.
Answer answer_of(const Calculator& calculator, const Inputs& inputs) try {
  return calculator.answer(inputs);
} catch (const InputError& error) {
  if (error.fault() != InputFault::data) throw;
  throw InputError(InputFault::usage, "calc " + calculator.name, error.rule(), error.hint());
}

int run(const Calculator& calculator, World& world, const Words& words) {
  const Inputs inputs(calculator.arguments, words);
  const Answer answer = answer_of(calculator, inputs);
  if (words.has("json")) {
    print_json(world.out, answer_json(calculator.name, inputs, answer));
  } else {
    world.out << answer_text(inputs, answer);
  }
  return kDone;
}

Command part_of(const Calculator& calculator) {
  return {"calc " + calculator.name,
          calculator.summary,
          {},
          "tickover calc " + calculator.name + " " + calculator.example,
          options_of(calculator.arguments),
          [calculator](World& world, const Words& words) { return run(calculator, world, words); }};
}

}  // namespace

Command calc_command() {
  Command command{"calc",
                  "Bench calculators: values with units in and out, formula and source shown.",
                  {{"calculator", "what to work out"}},
                  "tickover calc leak --hole 1mm",
                  {},
                  {}};
  for (const Calculator& calculator :
       {air_calculator(), lambda_calculator(), fuel_calculator(), leak_calculator(),
        float_calculator(), jet_calculator(), delivery_calculator(), sync_calculator(),
        compression_calculator()}) {
    command.parts.push_back(part_of(calculator));
  }
  return command;
}

}  // namespace tickover::cli
