#include "engine/gas/leak.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/calc/chart.hpp"
#include "cli/calc/outside_air.hpp"
#include "cli/print.hpp"
#include "engine/foundation/error.hpp"
#include "engine/gas/throttle.hpp"

namespace tickover::cli {
namespace {

std::vector<Argument> leak_arguments() {
  return std::vector<Argument>{
             {"hole", "mm", 0.05, 10, "diameter of the hole (a split: of the hole it equals)"},
             {"lambda-shift", "%", 0.1, 200,
              "rise of one cylinder's lambda at idle, in place of --hole"},
             {"lambda", "1", 0.6, 1.5, "lambda at idle without the leak", "0.9"},
             {"displacement", "ml", 20, 3000, "swept volume of all cylinders", "1000 ml"},
             {"cylinders", "1", 1, 8, "number of cylinders", "4"},
             {"speed", "rpm", 300, 3000, "idle speed", "1100 rpm"},
             {"vacuum", "kPa", 1, 90, "vacuum at idle, as a damped gauge shows it", "25 kPa"},
             {"filling", "%", 5, 60, "air taken at idle, of what the swept volume holds", "22 %"},
             {"open-speed", "rpm", 3000, 20000, "speed wide open", "9000 rpm"},
             {"open-filling", "%", 50, 130, "the same as --filling, wide open", "85 %"},
             {"bore", "mm", 10, 60, "throttle bore, one to each cylinder", "30 mm"},
             {"discharge", "1", 0.1, 1, "discharge coefficient of the hole", "0.65"}} +
         air_arguments("", "here");
}

/// The engine, its air and its hole.
struct Scene {
  OutsideAir outside;
  Engine engine;
  ThrottleLine line;
  Orifice hole;

  OperatingPoint at(double opening) const {
    return point_at_opening(engine, line, opening, outside.air);
  }
  LeakEffect effect(const OperatingPoint& point) const {
    return leak_effect(hole, engine, point, outside.air);
  }
};

Area hole_of(const Inputs& inputs, const Scene& scene) {
  if (inputs.given("hole") == inputs.given("lambda-shift")) {
    throw InputError(InputFault::usage, "calc leak", "wants either --hole or --lambda-shift",
                     "--hole 1mm asks what it does; --lambda-shift 8% asks what hole explains it");
  }
  if (inputs.given("hole")) return circle_area(inputs.value<Dimension::length>("hole"));
  const double factor = 1.0 + inputs.value<Dimension::fraction>("lambda-shift").value;
  return leak_area(factor, scene.hole.discharge_coefficient, scene.engine, scene.line.idle,
                   scene.outside.air);
}

ThrottleLine line_of(const Inputs& inputs, int cylinders, const Air& outside) {
  const OperatingPoint idle{inputs.value<Dimension::frequency>("speed"),
                            outside.pressure - inputs.value<Dimension::pressure>("vacuum"),
                            inputs.value<Dimension::fraction>("filling")};
  const Area bore = circle_area(inputs.value<Dimension::length>("bore"));
  return {idle,
          inputs.value<Dimension::frequency>("open-speed"),
          inputs.value<Dimension::fraction>("open-filling"),
          {static_cast<double>(cylinders) * bore, 0.8}};
}

Scene scene_of(const Inputs& inputs) {
  Scene scene{outside_air(inputs, ""),
              {inputs.value<Dimension::volume>("displacement"), inputs.whole("cylinders")},
              {},
              {Area(0), inputs.number("discharge")}};
  scene.line = line_of(inputs, scene.engine.cylinders, scene.outside.air);
  scene.hole.area = hole_of(inputs, scene);
  return scene;
}

/// Idle, and round openings from there to wide open.
std::vector<double> openings(double at_idle) {
  std::vector<double> out = {at_idle};
  for (const double percent : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0}) {
    if (0.01 * percent > 1.2 * at_idle) out.push_back(0.01 * percent);
  }
  return out;
}

struct Leaking {
  double opening;
  OperatingPoint point;
  LeakEffect effect;
  Pressure vacuum;
};

std::vector<Leaking> rows_of(const Scene& scene) {
  std::vector<Leaking> rows;
  for (const double opening : openings(idle_opening(scene.engine, scene.line, scene.outside.air))) {
    const OperatingPoint point = scene.at(opening);
    rows.push_back(
        {opening, point, scene.effect(point), scene.outside.air.pressure - point.manifold});
  }
  return rows;
}

std::string leaking_table(const std::vector<Leaking>& rows) {
  std::string out =
      "                                                   lambda of     lambda of\n"
      "  throttle open      speed     vacuum       leak  that cylinder  the engine\n";
  for (const Leaking& row : rows) {
    out += fmt::format(
        "{:>13.1f} % {:>6.0f} rpm {:>6.1f} kPa {:>6.3f} g/s {:>+11.1f} % {:>+9.1f} %\n",
        100 * row.opening, in_unit(quantity(row.point.speed), "rpm"),
        in_unit(quantity(row.vacuum), "kPa"), in_unit(quantity(row.effect.leak), "g/s"),
        100 * (row.effect.cylinder_lambda_factor - 1), 100 * (row.effect.engine_lambda_factor - 1));
  }
  return out;
}

std::vector<Cell> leaking_cells(const Leaking& row) {
  return {{"throttle-opening", row.opening},
          {"speed-rpm", in_unit(quantity(row.point.speed), "rpm")},
          {"vacuum-kPa", in_unit(quantity(row.vacuum), "kPa")},
          {"leak-gram-per-second", in_unit(quantity(row.effect.leak), "g/s")},
          {"cylinder-lambda-factor", row.effect.cylinder_lambda_factor},
          {"engine-lambda-factor", row.effect.engine_lambda_factor}};
}

std::string picture_of(const Scene& scene, const std::vector<Leaking>& rows) {
  const auto shift = [&](double opening) {
    return scene.effect(scene.at(opening)).cylinder_lambda_factor - 1.0;
  };
  return leaking_table(rows) + "\nRise of that cylinder's lambda against throttle opening\n" +
         throttle_chart(rows.front().opening, shift);
}

std::vector<Result> results_of(const Inputs& inputs, const Scene& scene, const LeakEffect& idle) {
  const double lambda = inputs.number("lambda");
  return {result("hole", "Diameter of the hole", circle_diameter(scene.hole.area), "mm"),
          result("leak", "Air through it at idle", idle.leak, "g/s"),
          change_result("cylinder-lambda-change", "Lambda of that cylinder at idle",
                        idle.cylinder_lambda_factor),
          number_result("cylinder-lambda", "which makes it", lambda * idle.cylinder_lambda_factor),
          change_result("engine-lambda-change", "Lambda of the whole engine at idle",
                        idle.engine_lambda_factor),
          result("idle-speed", "Idle speed, at most",
                 idle_speed_with_leak(scene.line.idle.speed, idle.share_of_cylinder,
                                      scene.engine.cylinders, lambda),
                 "rpm")};
}

/// Beyond it a cylinder misfires at idle, where much burnt gas stays in it: Heywood (1988), ch. 9
/// (from memory) gives 1.05 to 1.15.
constexpr double kLeanLimitAtIdle = 1.15;

std::string leak_means(double lambda, const LeakEffect& idle, const LeakEffect& open) {
  const std::string misfires = lambda * idle.cylinder_lambda_factor > kLeanLimitAtIdle
                                   ? " So lean it misfires at idle, or does not fire at all."
                                   : "";
  const Quantity times{idle.share_of_cylinder / open.share_of_cylinder, Dimension::number};
  return fmt::format(
             "The hole adds {} air to its cylinder at idle and {} wide open: idle feels it "
             "{} times as much as full throttle.",
             change_in_words(idle.cylinder_lambda_factor),
             change_in_words(open.cylinder_lambda_factor), format_quantity(times, "1", 2)) +
         misfires;
}

Answer leak_answer(const Inputs& inputs) {
  const Scene scene = scene_of(inputs);
  const std::vector<Leaking> rows = rows_of(scene);
  Answer out;
  out.results = results_of(inputs, scene, scene.effect(scene.line.idle));
  out.meaning = leak_means(inputs.number("lambda"), rows.front().effect, rows.back().effect);
  out.picture = picture_of(scene, rows);
  for (const Leaking& row : rows) out.rows.push_back(leaking_cells(row));
  out.formula =
      "Cd A p/root(R T) * root(2k/(k-1) (r^(2/k) - r^((k+1)/k))), r = pressure ratio, "
      "not below 0.5283; lambda = all air / metered air * lambda before";
  out.source =
      "isentropic flow, Heywood, Internal Combustion Engine Fundamentals (1988), appendix "
      "C (from memory); mass balance; between idle and wide open and the idle speed: own "
      "first-order derivations";
  out.assumptions = {"air: " + scene.outside.told,
                     "fuel as metered; the leak's own effect on the vacuum left out, which "
                     "overstates holes above about a third of the air",
                     "speed rises from idle to wide open as a power of the opening"};
  return out;
}

}  // namespace

Calculator leak_calculator() {
  return {"leak", "Unmetered air: what a hole does to the mixture, or what hole explains a shift.",
          "--hole 1mm --displacement 1000ml --speed 1100rpm", leak_arguments(), leak_answer};
}

}  // namespace tickover::cli
