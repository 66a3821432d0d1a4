/// @file
/// A jet by its number, as several calculators ask for it.
#pragma once

#include "cli/calc/calculator.hpp"
#include "engine/gas/jet.hpp"

namespace tickover::cli {

/// --numbering: what a jet's number means.
inline Argument numbering_argument() {
  return choice("numbering", {"diameter", "flow"},
                "what a jet's number means: hundredths of a millimetre, or flow");
}

inline JetSize numbering(const Inputs& inputs) {
  return inputs.word("numbering") == "flow" ? JetSize::flow : JetSize::diameter;
}

inline std::vector<Argument> jet_arguments() {
  return {{"jet", "1", 20, 400, "number of the jet now fitted, to name the one wanted"},
          numbering_argument()};
}

/// Adds the jet that passes `flow_ratio` of what --jet passes, when --jet is given.
inline void add_jet_wanted(const Inputs& inputs, double flow_ratio, Answer& answer) {
  answer.results.push_back(
      change_result("jet-area-change", "Jet area wanted for the old mixture", flow_ratio));
  if (!inputs.given("jet")) return;
  const double wanted = jet_number_for(inputs.number("jet"), flow_ratio, numbering(inputs));
  answer.results.push_back(number_result("jet-number", "Jet number wanted", wanted, 4));
}

}  // namespace tickover::cli
