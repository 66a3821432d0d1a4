#include "engine/gas/jet.hpp"

#include <cmath>
#include <numbers>

#include "engine/foundation/error.hpp"
#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr ValidRange kDiameterNumber{"jet number", 20.0, 400.0, "1"};
constexpr ValidRange kFlowNumber{"jet flow number", 1.0, 2000.0, "1"};
constexpr ValidRange kFlowRatio{"ratio of jet flows", 0.05, 20.0, "1"};
constexpr ValidRange kBore{"jet bore", 0.1, 4.0, "mm"};
constexpr ValidRange kDrill{"drill", 0.1, 4.0, "mm"};
constexpr ValidRange kThroat{"venturi throat", 5.0, 60.0, "mm"};
constexpr ValidRange kDifference{"pressure difference", 0.0, 100.0, "kPa"};
constexpr ValidRange kDrop{"filter drop", 0.0, 20.0, "kPa"};
constexpr ValidRange kFuelFlow{"fuel flow", 0.001, 10000.0, "ml/min"};

double square(double x) { return x * x; }

void require_jet_conditions(double coefficient, Pressure difference, Density fuel) {
  require_within(coefficient, kCoefficient);
  require_within(difference, kDifference);
  require_within(fuel, kFuelDensity);
}

/// Mass per area and time without losses [kg/(s m2)].
double bernoulli_flux(Pressure difference, Density density) {
  return std::sqrt(2.0 * density.value * difference.value);
}

DrillVerdict verdict_of(Length marked, Length enters, Length stops) {
  if (enters > marked) return DrillVerdict::larger;
  if (stops < marked) return DrillVerdict::smaller;
  return DrillVerdict::as_marked;
}

}  // namespace

Length jet_diameter(double number) {
  require_within(number, kDiameterNumber);
  return Length(number * 1e-5);
}

double jet_flow_ratio(double from, double to, JetSize size) {
  const ValidRange& range = size == JetSize::diameter ? kDiameterNumber : kFlowNumber;
  require_within(from, range);
  require_within(to, range);
  return size == JetSize::diameter ? square(to / from) : to / from;
}

double jet_number_for(double from, double flow_ratio, JetSize size) {
  require_within(flow_ratio, kFlowRatio);
  const double to = from * (size == JetSize::diameter ? std::sqrt(flow_ratio) : flow_ratio);
  jet_flow_ratio(from, to, size);  // refuses numbers out of range
  return to;
}

MassFlow jet_flow(const Jet& jet, Pressure difference, Density fuel) {
  require_within(jet.diameter, kBore);
  require_jet_conditions(jet.discharge_coefficient, difference, fuel);
  const double area = std::numbers::pi / 4 * square(jet.diameter.value);
  return MassFlow(jet.discharge_coefficient * area * bernoulli_flux(difference, fuel));
}

Length jet_diameter_for(VolumeFlow flow, double discharge_coefficient, Pressure difference,
                        Density fuel) {
  require_within(flow, kFuelFlow);
  require_jet_conditions(discharge_coefficient, difference, fuel);
  const double mass_flow = flow.value * fuel.value;
  const double area = mass_flow / (discharge_coefficient * bernoulli_flux(difference, fuel));
  const Length bore(std::sqrt(4 / std::numbers::pi * area));
  require_within(bore, kBore);
  return bore;
}

DrillCheck drill_check(Length marked, Length enters, Length stops) {
  require_within(marked, kBore);
  require_within(enters, kDrill);
  require_within(stops, kDrill);
  if (enters >= stops) {
    throw InputError(InputFault::data, {}, "the drill that enters is not below the one that stops",
                     "give first the largest that enters, then the smallest that does not");
  }
  return {verdict_of(marked, enters, stops), square(enters / marked), square(stops / marked)};
}

double elementary_air_fuel_ratio(const Venturi& venturi, const Jet& jet, Density air, Density fuel,
                                 const CarburettorSignals& signals) {
  require_within(venturi.throat, kThroat);
  require_within(venturi.discharge_coefficient, kCoefficient);
  require_within(air, kAirDensity);
  require_within(signals.air, kSignal);
  require_within(signals.fuel, kSignal);
  const double throat_area = std::numbers::pi / 4 * square(venturi.throat.value);
  const double air_flow =
      venturi.discharge_coefficient * throat_area * bernoulli_flux(signals.air, air);
  return air_flow / jet_flow(jet, signals.fuel, fuel).value;
}

double filter_lambda_factor(Pressure venturi_signal, Pressure drop) {
  require_within(venturi_signal, kSignal);
  require_within(drop, kDrop);
  return std::sqrt(venturi_signal / (venturi_signal + drop));
}

}  // namespace tickover
