/// @file
/// The bench calculators through the program itself: published numbers, their own examples, JSON,
/// and what they refuse.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/command.hpp"
#include "engine/foundation/text.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/shell.hpp"

namespace tickover::cli_calc_test {
namespace {

using Catch::Contains;
using Json = nlohmann::json;
using test::run_shell;
using test::ShellResult;

const std::vector<std::string> kCalculators = {"air", "lambda",   "fuel", "leak",       "float",
                                               "jet", "delivery", "sync", "compression"};

/// Everything it says, talk included.
ShellResult calc(const std::string& line) {
  return run_shell(std::string(TICKOVER_PROGRAM) + " calc " + line + " 2>&1");
}

Json json_of(const std::string& line) {
  const ShellResult result = calc(line + " --json");
  CAPTURE(line, result.out);
  REQUIRE(result.status == 0);
  return test::json_of(result.out);
}

double number(const Json& answer, const std::string& key) {
  INFO(key);
  REQUIRE(answer["results"].contains(key));
  return answer["results"][key]["value"].get<double>();
}

/// Equal to the digits that the source prints.
Approx printed(double value, double half_a_digit) {
  return Approx(value).epsilon(0).margin(half_a_digit);
}

/// The arguments of the example in its help.
std::string example_of(const std::string& calculator) {
  const std::string help = calc(calculator + " --help").out;
  const std::string mark = "Example\n  tickover calc ";
  const std::size_t at = help.find(mark);
  REQUIRE(at != std::string::npos);
  return help.substr(at + mark.size(), help.find('\n', at + mark.size()) - at - mark.size());
}

std::vector<cli::Option> options_of(const std::string& calculator) {
  for (const cli::Command& part : cli::calc_command().parts) {
    if (part.name == "calc " + calculator) return part.options;
  }
  return {};
}

/// "1mm" and "20mm" of an option whose help says "...; 1 to 20 mm; ..."; empty where it has none.
std::vector<std::string> ends_of(const cli::Option& option) {
  for (std::size_t at = option.help.find("; "); at != std::string::npos;
       at = option.help.find("; ", at + 1)) {
    std::istringstream part(option.help.substr(at + 2, option.help.find(';', at + 1) - at - 2));
    double low = 0, high = 0;
    std::string to, unit;
    if (!(part >> low >> to >> high) || to != "to") continue;
    part >> unit;
    return {shortest(low) + unit, shortest(high) + unit};
  }
  return {};
}

/// `line` less an argument and its value.
std::string without(std::string line, const std::string& argument) {
  const std::size_t begin = line.find(argument);
  if (begin == std::string::npos) return line;
  return line.erase(begin, line.find(' ', begin + argument.size()) - begin);
}

void refused(const std::string& line, const std::vector<std::string>& parts) {
  const ShellResult result = calc(line);
  CAPTURE(line, result.out);
  CHECK(result.status == 2);
  for (const std::string& part : parts) CHECK_THAT(result.out, Contains(part));
}

std::size_t longest_line(const std::string& text) {
  std::size_t longest = 0;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    longest = std::max(longest, end - begin);
    begin = end + 1;
  }
  return longest;
}

}  // namespace

TEST_CASE("calc air has the standard atmosphere's row and the altitude rule", "[cli][published]") {
  // ISO 2533:1975, 3000 m: 70.1085 kPa, 0.90912 kg/m3; a fixed jet runs richer by the root of the
  // densities' ratio, 16.1 %.
  const Json answer = json_of("air --altitude 3000m --jet 120");
  CHECK(number(answer, "pressure") == printed(70.1085, 5e-5));
  CHECK(number(answer, "density") == printed(0.90912, 5e-6));
  CHECK(number(answer, "density-altitude") == printed(3000, 0.5));
  CHECK(number(answer, "fuel-per-air-change") == printed(16.1, 0.05));
  CHECK(number(answer, "jet-number") == Approx(120 * std::sqrt(0.86147)).epsilon(1e-4));
  // 20 degC to 0 degC leans by 3.6 %: root of 293.15/273.15.
  const Json cold = json_of("air --temperature 0degC --set-temperature 68degF");
  CHECK(100 * (number(cold, "lambda-factor") - 1) == printed(3.6, 0.05));
  CHECK_THAT(calc("air --temperature 0degC --set-temperature 68degF").out,
             Contains("3.6 % leaner"));
}

TEST_CASE("calc air takes the weather report's pressure for what it is", "[cli]") {
  const Json answer = json_of("air --altitude 1200m --sea-level-pressure 1013.25mbar");
  CHECK(number(answer, "pressure") == Approx(87.716).epsilon(1e-4));
  refused("air --altitude 1200m --pressure 0.98bar",
          {"--pressure: 98 kPa is not the air pressure at 1200 m", "--sea-level-pressure"});
  CHECK(calc("air --altitude 1200m --pressure 0.88bar").status == 0);
}

TEST_CASE("calc lambda finds lambda of gas whose lambda is known", "[cli][published]") {
  // Composition by atom balance with a water-gas constant of 3.7 (MIT course 2.61, 2017), fuel
  // CH1.87, put through the equation with the regulation's constants.
  const Json rich = json_of("lambda --co 3.72% --co2 12.80% --o2 0% --hc 0ppm");
  CHECK(number(rich, "regulation-lambda") == printed(0.8975, 2e-4));
  CHECK(number(rich, "lambda") == printed(0.90, 2e-3));
  const Json lean = json_of("lambda --co 0% --co2 13.82% --o2 2.03% --hc 0ppm");
  CHECK(number(lean, "regulation-lambda") == printed(1.1031, 2e-4));
  CHECK(number(lean, "lambda") == printed(1.10, 1e-3));
}

TEST_CASE("calc lambda tells outside air from a lean charge", "[cli]") {
  // Gas of lambda 0.919 with 20 % of outside air reads 1.139.
  const std::string diluted = "lambda --co 2.40% --co2 10.97% --o2 4.18% --hc 0ppm";
  const Json answer = json_of(diluted);
  CHECK(number(answer, "regulation-lambda") == printed(1.139, 2e-3));
  CHECK(number(answer, "undiluted-lambda") == printed(0.919, 2e-3));
  CHECK(number(answer, "outside-air") == printed(20, 0.1));
  CHECK_THAT(calc(diluted).out, Contains("proves nothing"));
  const std::string lean = calc("lambda --co 0.1% --co2 13.7% --o2 2.1% --hc 60ppm").out;
  CHECK_THAT(lean, Contains("truly lean"));
  CHECK_THAT(calc("lambda --co 1% --co2 8% --o2 0.5% --hc 100ppm").out, Contains("do not add up"));
}

TEST_CASE("calc fuel has the stoichiometric ratios by composition", "[cli][published]") {
  // CH1.85 14.57, E10 13.99, E85 9.80 kg of air for 1 kg.
  const Json e10 = json_of("fuel");
  CHECK(number(e10, "air-fuel-ratio") == printed(13.99, 0.005));
  CHECK(number(e10, "set-air-fuel-ratio") == printed(14.57, 0.005));
  CHECK(number(json_of("fuel --ethanol 85%"), "air-fuel-ratio") == printed(9.80, 0.005));
  CHECK(number(json_of("fuel --ethanol 0%"), "lambda-change") == 0);
}

TEST_CASE("calc leak has the choked flow of the textbook", "[cli][published]") {
  // 0.0404 root(K) s/m times Cd times area times p over root(T): 0.155 g/s for 1 mm2 at Cd 0.65.
  const Json choked =
      json_of("leak --hole 1.128379mm --vacuum 60kPa --temperature 20degC --filling 30%");
  CHECK(number(choked, "leak") == printed(0.155, 5e-4));
  CHECK(number(choked, "leak") ==
        Approx(1e3 * 0.0404 * 0.65 * 1e-6 * 101325 / std::sqrt(293.15)).epsilon(2e-3));
  // 25 kPa of vacuum: 0.108 g/s through 1 mm, and 18 % of the 0.6 g/s that a 250 ml cylinder takes.
  const std::string line =
      "leak --hole 1mm --displacement 250ml --cylinders 1 --filling 21.74% "
      "--temperature 20degC";
  const Json idle = json_of(line);
  CHECK(number(idle, "leak") == printed(0.108, 6e-4));
  CHECK(number(idle, "cylinder-lambda-change") == printed(18, 0.5));
  CHECK(number(idle, "cylinder-lambda") == printed(1.06, 6e-3));
}

TEST_CASE("calc leak shows idle upset and full throttle not", "[cli]") {
  const Json answer = json_of("leak --hole 1mm");
  const Json& rows = answer["rows"];
  REQUIRE(rows.size() >= 6);
  for (std::size_t i = 1; i < rows.size(); ++i) {
    CHECK(rows[i]["cylinder-lambda-factor"] < rows[i - 1]["cylinder-lambda-factor"]);
  }
  CHECK(rows[0]["cylinder-lambda-factor"].get<double>() ==
        Approx(1 + number(answer, "cylinder-lambda-change") / 100).epsilon(1e-6));
  CHECK(rows.back()["cylinder-lambda-factor"] < 1.002);
  CHECK_THAT(calc("leak --hole 1mm").out, Contains("|##") && Contains("idle") && Contains("100 %"));
}

TEST_CASE("calc leak tells a cylinder that misfires", "[cli]") {
  CHECK_THAT(calc("leak --hole 1.5mm").out, Contains("misfires at idle"));
  CHECK_THAT(calc("leak --hole 1mm").out, !Contains("misfires"));
}

TEST_CASE("calc leak finds the hole again that explains a shift", "[cli]") {
  const Json forward = json_of("leak --hole 0.8mm --altitude 500m");
  const double shift = number(forward, "cylinder-lambda-change");
  const Json back = json_of("leak --altitude 500m --lambda-shift " + std::to_string(shift) + "%");
  CHECK(number(back, "hole") == Approx(0.8).epsilon(1e-6));
}

TEST_CASE("calc float has the table of levels and the weight of petrol", "[cli][published]") {
  // 7.3 Pa for 1 mm; lip 6 mm, signal 150 Pa: 3.6 % leaner 1 mm low, 12.3 % leaner 3 mm low.
  const Json one = json_of("float --level-change -1mm");
  CHECK(number(one, "head-change") == printed(-7.3, 0.05));
  CHECK(number(one, "main-beginning-lambda-change") == printed(3.6, 0.05));
  CHECK(number(json_of("float --level-change -3mm"), "main-beginning-lambda-change") ==
        printed(12.3, 0.05));
  const Json height = json_of("float --float-change 0.07in --pin-to-reading 50mm");
  CHECK(number(height, "level-change") == Approx(-0.889));
  const ShellResult starved = calc("float --level-change -15mm");
  CHECK(starved.status == 0);
  CHECK_THAT(starved.out, Contains("no longer reaches the outlet"));
}

TEST_CASE("calc jet has the textbook's flow and steps", "[cli][published]") {
  // 100 to 105: +10.3 %; pilot 35 to 40: +31 %; by flow number, +5 %.
  CHECK(number(json_of("jet --from 100 --to 105"), "flow-change") == printed(10.3, 0.05));
  CHECK(number(json_of("jet --from 35 --to 40"), "flow-change") == printed(31, 0.5));
  CHECK(number(json_of("jet --from 100 --to 105 --numbering flow"), "flow-change") == Approx(5));
  // Data of exercise 8.5, Scilab-TBC-Uploads book 443: 1.14 mm, 0.65, 750 kg/m3, 0.08 bar; by hand
  // 2.298 g/s.
  const Json flow = json_of("jet --from 114 --signal 0.08bar --ethanol 11.36%");
  CHECK(number(flow, "from-flow") == Approx(60 * 2.298).epsilon(1e-3));
  CHECK_THAT(calc("jet --from 100 --enters 0.92mm --stops 0.95mm").out, Contains("narrower"));
  CHECK_THAT(calc("jet --from 100 --enters 0.98mm --stops 1.02mm").out, Contains("as wide"));
}

TEST_CASE("calc delivery has the need by power", "[cli][published]") {
  // 300 g/kWh and 745 kg/m3: 336 ml/min for 50 kW, 470 for 70 kW.
  const Json answer = json_of("delivery --flow 250ml --in 40s --power 50kW");
  CHECK(number(answer, "wanted") == printed(336, 0.5));
  CHECK(number(answer, "given") == Approx(375));
  CHECK(number(json_of("delivery --flow 1l --in 1min --power 70kW"), "wanted") ==
        printed(470, 0.5));
  CHECK_THAT(calc("delivery --flow 100ml --in 1min --power 50kW").out, Contains("run dry"));
  CHECK_THAT(calc("delivery --flow 1l --in 1min --power 50kW").out, Contains("Enough fuel"));
}

TEST_CASE("calc sync converts by definition and names the odd cylinder", "[cli][published]") {
  // Conventional mercury, NIST SP 811: 1 inHg is 25.4 mmHg and 3.386389 kPa.
  const Json inch = json_of("sync --readings 10inHg,9inHg");
  CHECK(number(inch, "spread-mmHg") == Approx(25.4));
  CHECK(number(inch, "spread-cmHg") == Approx(2.54));
  CHECK(number(inch, "spread-inHg") == Approx(1));
  CHECK(number(inch, "spread-kPa") == printed(3.386389, 5e-7));
  const std::string line = "sync --readings 24kPa,26kPa,25kPa,21kPa";
  CHECK(number(json_of(line), "odd-cylinder") == 4);
  CHECK_THAT(calc(line).out, Contains("cylinder 4 lies 4 kPa below the others"));
  CHECK_FALSE(
      json_of("sync --readings 20kPa,20kPa,26kPa,26kPa")["results"].contains("odd-cylinder"));
  // a comma behind a digit is a decimal comma
  CHECK(number(json_of("sync --readings '24,5kPa, 26kPa'"), "spread-kPa") == Approx(1.5));
}

TEST_CASE("calc compression has altitude factor and leak-down", "[cli][published]") {
  // 60 of 80 psi is the loss of 25 % of FAA AC 43.13-1B; the standard pressure at 1000 m is
  // 89.8746 kPa.
  const Json answer = json_of("compression --readings 10bar,9bar --altitude 1000m");
  CHECK(number(answer, "sea-level-1") == Approx(1000 * 101.325 / 89.8746).epsilon(1e-6));
  CHECK(number(answer, "lowest-over-highest") == Approx(90));
  CHECK(number(json_of("compression --supply 80psi --held 60psi"), "leak-down") == Approx(25));
  CHECK_THAT(calc("compression --readings 12bar,12bar,8bar").out,
             Contains("cylinder 3 lies 400 kPa below the others"));
}

TEST_CASE("every calculator's example runs, fits 80 columns and names its source", "[cli]") {
  const std::string name = GENERATE(from_range(kCalculators));
  const std::string example = example_of(name);
  CAPTURE(name, example);
  const ShellResult result = calc(example);
  CHECK(result.status == 0);
  CHECK(longest_line(result.out) <= 80);
  CHECK(longest_line(calc(name + " --help").out) <= 80);
  CHECK_THAT(result.out, Contains("\nFormula  ") && Contains("\nSource   ") && Contains("Assumed"));
  CHECK(std::all_of(result.out.begin(), result.out.end(), [](char c) { return c > 0; }));
  const Json answer = json_of(example);
  CHECK(answer["report"] == "calc");
  CHECK(answer["format"] == 1);
  CHECK(answer["calculator"] == name);
  for (const char* key : {"inputs", "results", "formula", "source", "assumptions", "meaning"}) {
    CHECK(answer.contains(key));
  }
  for (const auto& [key, one] : answer["results"].items()) {
    CHECK((one.contains("value") && one.contains("unit") && one.contains("si")));
  }
}

TEST_CASE("inputs are told with unit and SI value", "[cli]") {
  const Json inputs = json_of("leak --hole 0.04in")["inputs"];
  CHECK(inputs["hole"]["unit"] == "mm");
  CHECK(inputs["hole"]["value"].get<double>() == Approx(1.016));
  CHECK(inputs["hole"]["si"].get<double>() == Approx(0.001016));
  CHECK_FALSE(inputs["hole"].contains("usual"));
  CHECK(inputs["vacuum"]["usual"] == true);
}

TEST_CASE("calc lists the calculators", "[cli]") {
  const ShellResult help = calc("--help");
  CHECK(help.status == 0);
  for (const std::string& name : kCalculators) CHECK_THAT(help.out, Contains("calc " + name + " "));
  CHECK(calc("").status == 2);
  CHECK_THAT(calc("leak --help").out, Contains("--hole LENGTH") && Contains("0.05 to 10 mm"));
}

TEST_CASE("calc says what is wrong, where, and what would be right", "[cli][errors]") {
  refused("leek --hole 1mm", {"no command named 'calc leek'", "nearest: calc leak"});
  refused("air --temperature 28kPa", {"--temperature: '28kPa' is a pressure, not a temperature",
                                      "units of temperature: degC, degF, K"});
  refused("air --temprature 28degC", {"temprature", "nearest: --temperature"});
  refused("air --temperature 28", {"--temperature: '28' has no unit", "degC"});
  refused("air --temperature 28grad", {"--temperature", "no unit named 'grad'"});
  refused("air --temperature 280degC",
          {"--temperature: 280 degC is out of range", "-40 to 55 degC"});
  refused("air --temperature", {"temperature"});
  refused("air --temperature --jet 120", {"--temperature: its value is missing", "--jet"});
  refused("jet --from 100mm", {"'100mm' is a length, not a number", "without unit"});
  refused("leak --hole 9mm", {"calc leak: factor by which the hole raises lambda", "1 to 3"});
  refused("air --jet 120 --jet 130", {"--jet: given twice"});
  refused("air 1200m", {"one word too many: '1200m'"});
  refused("jet --to 105", {"--from: it is missing", "number on the jet"});
  refused("jet --from 100 --numbering flows",
          {"--numbering: 'flows' is not known", "nearest: flow"});
  refused("jet --from 100 --enters 1mm", {"--stops: it is missing"});
  refused("leak", {"either --hole or --lambda-shift"});
  refused("leak --hole 1mm --cylinders 2.5", {"--cylinders: 2.5 is not a whole number"});
  refused("lambda --co 0.1% --co2 0.2% --o2 20% --hc 0ppm", {"calc lambda", "this is air"});
  refused("sync --readings 24kPa", {"calc sync", "number of readings 1", "from 2 to 8"});
  refused("sync --readings 24,26,25kPa", {"--readings", "write each with its unit"});
  refused("compression --supply 60psi --held 80psi", {"calc compression", "held pressure"});
  refused("float --float-change nan", {"--float-change"});
}

TEST_CASE("no value in range ends in anything but an answer or a reason", "[cli][property]") {
  const std::string name = GENERATE(from_range(kCalculators));
  const std::string example = example_of(name);
  for (const cli::Option& option : options_of(name)) {
    const std::string argument = " --" + option.name + " ";
    for (const std::string& value : ends_of(option)) {
      const std::string line = without(example, argument) + argument + value;
      const ShellResult result = calc(line);
      CAPTURE(line, result.out);
      CHECK((result.status == 0 || result.status == 2));
      CHECK_THAT(result.out, !Contains("out of range"));
    }
  }
}

}  // namespace tickover::cli_calc_test
