#include "engine/foundation/unit_table.hpp"

#include <numbers>

namespace tickover {
namespace {

using enum Dimension;

constexpr double kInch = 0.0254;                                 // m
constexpr double kFoot = 12.0 * kInch;                           // m
constexpr double kPound = 0.45359237;                            // kg
constexpr double kGravity = 9.80665;                             // m/s2, standard
constexpr double kMercury = 13595.1;                             // kg/m3, conventional
constexpr double kWater = 1000.0;                                // kg/m3, conventional
constexpr double kCelsiusZero = 273.15;                          // K
constexpr double kFahrenheitZero = 459.67 * 5 / 9.0;             // K
constexpr double kMinute = 60.0;                                 // s
constexpr double kHour = 3600.0;                                 // s
constexpr double kHorsepower = 550 * kFoot * kPound * kGravity;  // W, 550 foot pounds per second

constexpr Unit kUnits[] = {
    {"1 :1 lambda", number, 1.0},
    {"% percent vol% %vol", fraction, 1e-2},
    {"ppm ppmvol", fraction, 1e-6},

    {"mm millimetre millimetres millimeter millimeters", length, 1e-3},
    {"cm", length, 1e-2},
    {"m metre metres meter meters", length, 1.0},
    {"km", length, 1e3},
    {"um \u00B5m \u03BCm micron microns", length, 1e-6},
    {"in inch inches \" \u2033", length, kInch},
    {"thou mil", length, 1e-3 * kInch},
    {"ft foot feet", length, kFoot},
    {"mi mile miles", length, 5280 * kFoot},

    {"mm2 mm\u00B2 mm^2 sqmm", area, 1e-6},
    {"cm2 cm\u00B2 cm^2", area, 1e-4},
    {"m2 m\u00B2 m^2", area, 1.0},
    {"in2 in\u00B2 in^2 sqin", area, kInch* kInch},

    {"ml cc ccm cm3 cm\u00B3 cm^3 millilitre millilitres milliliter milliliters", volume, 1e-6},
    {"l litre litres liter liters dm3 dm\u00B3", volume, 1e-3},
    {"m3 m\u00B3 m^3", volume, 1.0},
    {"in3 in\u00B3 in^3 cuin", volume, kInch* kInch* kInch},

    {"turns turn rev", angle, 2 * std::numbers::pi},
    {"deg \u00B0 degree degrees", angle, std::numbers::pi / 180},
    {"rad", angle, 1.0},

    {"s sec second seconds", time, 1.0},
    {"ms", time, 1e-3},
    {"min minute minutes mins", time, kMinute},
    {"h hour hours hr hrs", time, kHour},
    {"d day days", time, 24 * kHour},
    {"week weeks", time, 168 * kHour},

    {"rpm r/min rev/min 1/min min-1 min\u207B\u00B9 U/min", frequency, 1 / kMinute},
    {"Hz 1/s", frequency, 1.0},

    {"m/s", velocity, 1.0},
    {"km/h kph", velocity, 1e3 / kHour},
    {"mph", velocity, 5280 * kFoot / kHour},

    {"degC \u00B0C \u00BAC C \u2103 celsius", temperature, 1.0, kCelsiusZero},
    {"degF \u00B0F \u00BAF F \u2109 fahrenheit", temperature, 5 / 9.0, kFahrenheitZero},
    {"K kelvin", temperature, 1.0},

    {"kPa", pressure, 1e3},
    {"Pa", pressure, 1.0},
    {"hPa", pressure, 1e2},
    {"MPa", pressure, 1e6},
    {"bar", pressure, 1e5},
    {"mbar", pressure, 1e2},
    {"psi lbf/in2 lb/in2", pressure, kPound* kGravity / (kInch * kInch)},
    {"mmHg", pressure, 1e-3 * kMercury* kGravity},
    {"cmHg", pressure, 1e-2 * kMercury* kGravity},
    {"inHg \"Hg", pressure, kInch* kMercury* kGravity},
    {"mmH2O mmWC", pressure, 1e-3 * kWater* kGravity},
    {"cmH2O cmWC", pressure, 1e-2 * kWater* kGravity},
    {"inH2O inWC", pressure, kInch* kWater* kGravity},
    {"kgf/cm2 kgf/cm\u00B2 kg/cm2 kg/cm\u00B2", pressure, 1e4 * kGravity},
    {"atm", pressure, 101325.0},
    {"torr", pressure, 101325.0 / 760},

    {"kg", mass, 1.0},
    {"g gram grams", mass, 1e-3},
    {"mg", mass, 1e-6},
    {"lb lbs pound pounds", mass, kPound},
    {"oz ounce ounces", mass, kPound / 16},

    {"kg/m3 kg/m\u00B3 kg/m^3 g/l", density, 1.0},
    {"kg/l g/ml g/cm3 g/cm\u00B3 g/cc", density, 1e3},

    {"kW", power, 1e3},
    {"W watt watts", power, 1.0},
    {"PS", power, 75 * kGravity},
    {"hp bhp", power, kHorsepower},

    {"ml/min cc/min ccm/min cm3/min cm\u00B3/min", volume_flow, 1e-6 / kMinute},
    {"ml/s cc/s cm3/s", volume_flow, 1e-6},
    {"l/min", volume_flow, 1e-3 / kMinute},
    {"l/h", volume_flow, 1e-3 / kHour},
    {"m3/s m\u00B3/s", volume_flow, 1.0},

    {"g/s", mass_flow, 1e-3},
    {"g/min", mass_flow, 1e-3 / kMinute},
    {"g/h", mass_flow, 1e-3 / kHour},
    {"kg/h", mass_flow, 1 / kHour},
    {"kg/s", mass_flow, 1.0},

    {"g/kWh g/(kWh) g/kW/h", specific_consumption, 1e-3 / (1e3 * kHour)},
    {"lb/hph lb/(hph) lb/hp/h", specific_consumption, kPound / (kHorsepower * kHour)},

    {"V volt volts", voltage, 1.0},
    {"mV", voltage, 1e-3},
    {"ohm ohms \u03A9 \u2126", resistance, 1.0},
    {"kohm kohms k\u03A9 k\u2126", resistance, 1e3},
};

}  // namespace

std::span<const Unit> unit_table() { return kUnits; }

}  // namespace tickover
