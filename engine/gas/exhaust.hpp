/// @file
/// Exhaust gas: lambda from an analyser's reading, and whether the reading can be believed.
#pragma once

#include "engine/gas/fuel.hpp"

namespace tickover {

/// Which hydrocarbon the analyser is calibrated with: one part of it stands for so many carbon
/// atoms.
enum class HydrocarbonScale {
  hexane = 6,   ///< usual in workshops; HC shown as ppm of n-hexane
  propane = 3,  ///< HC shown as ppm of propane
};

/// A reading of dry exhaust gas, shares by volume. NO may stay 0: 1000 ppm move lambda by 0.002.
struct ExhaustGas {
  Fraction carbon_monoxide;
  Fraction carbon_dioxide;
  Fraction oxygen;
  Fraction hydrocarbons;
  Fraction nitric_oxide{0.0};
  HydrocarbonScale scale = HydrocarbonScale::hexane;
};

/// Lambda of the gas at the probe, by the Brettschneider equation:
///   { CO2 + CO/2 + O2 + NO/2 + [h/4 * 3.5/(3.5 + CO/CO2) - o/2] (CO2 + CO) }
///   / { (1 + h/4 - o/2) (CO2 + CO + k HC) },   k = 6 for hexane, 3 for propane.
/// It is the oxygen present over the oxygen wanted, so misfire does not disturb it; outside air
/// does. Exact for complete lean combustion; low by 0.0025 at lambda 0.80 (fixed water-gas
/// constant). An infrared bench may see only half the carbon of petrol HC ("Scaling of infrared
/// remote sensor hydrocarbon measurements", Environ. Sci. Technol. 32 (1998) 3241, from memory):
/// lambda is then too high by about 0.01 per 250 ppm hexane. Range    CO 0-16
/// %, CO2 0-20 %, O2 0-21 %, carbon in HC 0-12 %, NO 0-1 %, CO + CO2 at least 1 %
///          (less is air, not exhaust), sum at most 100 %. Failure: InputError (data) outside.
/// Source   Brettschneider, Bosch Technische Berichte 6 (1979) 4, 177-186; water-gas constant 3.5
///          from memory. Layout as in OIML R 99.
double exhaust_lambda(const ExhaustGas& gas, const Fuel& fuel = kPetrol);

/// What the four gases say about each other.
struct ExhaustCheck {
  double lambda;          ///< exhaust_lambda: true when all the oxygen went through the engine
  double diluted_lambda;  ///< lambda when the oxygen that burning cannot account for is outside air
  Fraction outside_air;   ///< share of the sample that this air would be, at most
  Fraction undiluted_co2;  ///< CO2 without that air
  double balance;  ///< all gases by oxygen balance over the sample; 1 when the bench is right
};

/// Tests the gases against each other. Air that enters between valve and probe leaves CO/CO2 as it
/// was and brings O2 and too little CO2; the true lambda lies between `diluted_lambda` and
/// `lambda`. Oxygen up to the demand of the unburnt fuel is not counted as outside air, since
/// misfire passes both. Cylinders of unequal mixture in one pipe look the same: measure each
/// header. `balance` adds hydrogen (by the water-gas constant) and the nitrogen of the oxygen
/// found. Air in the sample leaves it at 1; a weak CO2 or CO cell moves it by 5 to 7 times its
/// error. Range, failure   as exhaust_lambda. Source   atom balance; air with 20.95 % O2 by volume.
/// Own derivation, tested by construction.
ExhaustCheck check_exhaust(const ExhaustGas& gas, const Fuel& fuel = kPetrol);

/// True when the gas reads lean (lambda above 1 + `resolution`) though without outside air it would
/// be rich (below 1 - `resolution`): the lean reading proves nothing until the exhaust is tight.
/// `resolution` is the lambda step one trusts, 0 to 0.2. Failure: InputError (data) outside.
bool lean_reading_doubtful(const ExhaustCheck& check, double resolution);

}  // namespace tickover
