#include "cli/calc/fuel_arguments.hpp"
#include "cli/calc/jet_arguments.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

std::vector<Argument> jet_change_arguments() {
  return {{"from", "1", 1, 2000, "number on the jet", "", true},
          {"to", "1", 1, 2000, "number on the jet to compare it with"},
          numbering_argument(),
          {"enters", "mm", 0.1, 4, "largest drill or pin that enters by hand"},
          {"stops", "mm", 0.1, 4, "smallest that does not enter"},
          {"signal", "Pa", 1, 60000, "pressure difference at which to tell the flow of fuel",
           "1000 Pa"},
          {"discharge", "1", 0.1, 1, "discharge coefficient", "0.65"},
          ethanol_argument("0 %")};
}

Pressure signal_of(const Inputs& inputs) { return inputs.value<Dimension::pressure>("signal"); }

/// A flow number is taken as ml/min of this fuel under this signal.
Length bore_of(const Inputs& inputs, double number) {
  if (numbering(inputs) == JetSize::diameter) return jet_diameter(number);
  const VolumeFlow flow = typed<Dimension::volume_flow>(quantity_in(number, "ml/min"));
  return jet_diameter_for(flow, inputs.number("discharge"), signal_of(inputs),
                          fuel_of(inputs).density);
}

void add_flow(const Inputs& inputs, const std::string& name, Answer& out) {
  const Length bore = bore_of(inputs, inputs.number(name));
  const std::string which = name == "from" ? "the jet" : "the other jet";
  const MassFlow flow =
      jet_flow({bore, inputs.number("discharge")}, signal_of(inputs), fuel_of(inputs).density);
  out.results.push_back(result(name + "-bore", "Bore of " + which, bore, "mm", 4));
  out.results.push_back(result(name + "-flow", "Fuel through " + which, flow, "g/min"));
}

void add_change(const Inputs& inputs, Answer& out) {
  const double ratio =
      jet_flow_ratio(inputs.number("from"), inputs.number("to"), numbering(inputs));
  out.results.push_back(change_result("flow-change", "Change of fuel flow", ratio));
  out.results.push_back(
      change_result("lambda-change", "Change of lambda on this circuit", 1 / ratio));
  out.meaning = ratio == 1.0
                    ? "The same jet."
                    : "The other jet makes its circuit " + mixture_in_words(1 / ratio) + ".";
}

std::string verdict_text(DrillVerdict verdict) {
  if (verdict == DrillVerdict::smaller) {
    return "The jet is narrower than its number says: deposit in it, or another jet.";
  }
  if (verdict == DrillVerdict::larger) {
    return "The jet is wider than its number says: reamed, worn, or another jet.";
  }
  return "The jet is as wide as its number says.";
}

void add_drill_check(const Inputs& inputs, Answer& out) {
  const DrillCheck check =
      drill_check(bore_of(inputs, inputs.number("from")), inputs.value<Dimension::length>("enters"),
                  inputs.value<Dimension::length>("stops"));
  out.results.push_back(change_result("least-flow-change", "Its flow against its number, at least",
                                      check.least_flow_ratio));
  out.results.push_back(change_result("most-flow-change", "Its flow against its number, at most",
                                      check.most_flow_ratio));
  out.meaning += (out.meaning.empty() ? "" : " ") + verdict_text(check.verdict);
}

Answer jet_answer(const Inputs& inputs) {
  Answer out;
  add_flow(inputs, "from", out);
  if (inputs.given("to")) add_flow(inputs, "to", out);
  if (inputs.given("to")) add_change(inputs, out);
  if (inputs.given("enters") || inputs.given("stops")) add_drill_check(inputs, out);
  if (out.meaning.empty()) {
    out.meaning =
        "That much fuel it passes when clean; --to compares it with another jet, "
        "--enters and --stops with drills.";
  }
  out.formula =
      "flow = Cd * area * root(2 * density * signal); by diameter it goes with (to/from)^2, "
      "by flow number with to/from; lambda with the inverse";
  out.source =
      "Bernoulli's law with discharge coefficient (0.60-0.66 in textbooks, 0.62-0.88 NACA "
      "report 224); area of a circle";
  out.assumptions = {
      "signal and discharge coefficient the same for both; makers differ in what the "
      "number means, and one maker may use both"};
  return out;
}

}  // namespace

Calculator jet_calculator() {
  return {"jet", "Jets: flow by number, change from one size to another, drill check.",
          "--from 100 --to 105", jet_change_arguments(), jet_answer};
}

}  // namespace tickover::cli
