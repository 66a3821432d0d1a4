/// @file
/// Jets: what a number stamped on brass stands for, what flows, and whether it is still that size.
#pragma once

#include "engine/foundation/units.hpp"

namespace tickover {

/// What a jet's number means. Makers differ, and one maker may use both for two shapes of jet.
enum class JetSize {
  diameter,  ///< diameter of the bore in hundredths of a millimetre: flow goes with its square
  flow,      ///< flow on the maker's bench, in ml/min or a number like it: flow goes with it
};

/// Diameter of the bore of a jet numbered in hundredths of a millimetre.
/// Range    20 to 400. Failure: InputError (data) outside.
Length jet_diameter(double number);

/// Flow of a jet numbered `to` over one numbered `from`, same signal and fuel: (to/from)^2 or
/// to/from. Discharge coefficient taken as equal. The mixture's lambda goes with the inverse. Range
/// diameter numbers 20 to 400, flow numbers 1 to 2000. Failure: InputError (data) outside. Source
/// area of a circle; definition of the flow number.
double jet_flow_ratio(double from, double to, JetSize size);

/// The number of the jet that flows `flow_ratio` times what the jet numbered `from` flows: inverse
/// of jet_flow_ratio, seldom a number that is sold.
/// Range    ratio 0.05 to 20, `from` and the answer as there. Failure: InputError (data) outside.
double jet_number_for(double from, double flow_ratio, JetSize size);

/// A jet at work.
struct Jet {
  Length diameter;
  double discharge_coefficient = 0.65;  ///< 0.60-0.66 in textbooks; 0.62-0.88 NACA report 224
};

/// Mass of fuel through the jet under the pressure difference: Cd A sqrt(2 density difference).
/// Range    diameter 0.1 to 4 mm, coefficient 0.01 to 1, difference 0 to 100 kPa, fuel 600 to
///          1000 kg/m3. Failure: InputError (data) outside.
/// Source   Bernoulli's law with discharge coefficient.
MassFlow jet_flow(const Jet& jet, Pressure difference, Density fuel);

/// The bore that passes `flow` of fuel under the difference: inverse of jet_flow, and the way from
/// a flow number to a diameter when the maker's test head is known. Range, failure: as jet_flow.
Length jet_diameter_for(VolumeFlow flow, double discharge_coefficient, Pressure difference,
                        Density fuel);

/// What trying drills or pins in a jet tells.
enum class DrillVerdict {
  as_marked,  ///< the marked size lies between the drill that enters and the one that does not
  smaller,    ///< not even a drill below the marked size enters: deposit, or another jet
  larger,     ///< a drill above the marked size enters: reamed, worn, or another jet
};

struct DrillCheck {
  DrillVerdict verdict;
  double least_flow_ratio;  ///< flow over the marked flow, from the drill that enters
  double most_flow_ratio;   ///< the same from the drill that does not
};

/// Compares a jet with the largest drill that enters by hand and the smallest that does not.
/// Range    all 0.1 to 4 mm, `enters` below `stops`. Failure: InputError (data) outside.
DrillCheck drill_check(Length marked, Length enters, Length stops);

/// Venturi with its jet, for the elementary carburettor.
struct Venturi {
  Length throat;
  double discharge_coefficient = 0.8;  ///< 0.80-0.85 in textbooks
};

/// The depressions that move air and fuel.
struct CarburettorSignals {
  Pressure air;   ///< from the venturi's mouth to its throat
  Pressure fuel;  ///< from the bowl's vent to the throat, less the lift to the lip
};

/// Air-fuel ratio by mass of the elementary carburettor, air taken as incompressible:
///   (Ca Da^2) / (Cf Df^2) sqrt(air density * air signal / (fuel density * fuel signal)).
/// Range    throat 5 to 60 mm, signals above 0 to 60 kPa, air 0.3 to 2 kg/m3; else as jet_flow.
/// Failure  InputError (data) outside.
/// Source   Bernoulli's law on both sides; textbook exercises 8.5 and 8.6 as in Scilab-TBC-Uploads,
///          book 443.
double elementary_air_fuel_ratio(const Venturi& venturi, const Jet& jet, Density air, Density fuel,
                                 const CarburettorSignals& signals);

/// Lambda with an air filter that costs `drop` over lambda without it, same air, bowl vented to the
/// outside: sqrt(signal / (signal + drop)). With the bowl vented behind the filter it is 1.
/// Range    signal above 0 to 60 kPa, drop 0 to 20 kPa. Failure: InputError (data) outside.
/// Source   as elementary_air_fuel_ratio.
double filter_lambda_factor(Pressure venturi_signal, Pressure drop);

}  // namespace tickover
