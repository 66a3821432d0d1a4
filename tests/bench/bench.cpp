// Prints how long belief takes, beside two textbook ways to the same answers, and the program's
// commands. Build and run: cmake --build build/release --target bench
// Not a test: machines differ; compare ratios. What the tables mean: tests/bench/README.md.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "engine/belief/bounds.hpp"
#include "engine/belief/infer.hpp"
#include "tests/bench/measure.hpp"
#include "tests/bench/shipped.hpp"
#include "tests/support/synthetic.hpp"
#include "tests/support/yardsticks.hpp"

namespace {

using namespace tickover;
using bench::milliseconds;
using test::Links;

const char* name_of(Links links) {
  if (links == Links::dense) return "dense";
  return links == Links::sparse ? "sparse" : "crossing";
}

struct Sweep {
  double warm = 0;   ///< a solver used again on a like case: the order is known
  double fresh = 0;  ///< a new solver
  belief::Belief belief;
};

Sweep time_of(const belief::Case& given) {
  Sweep sweep;
  belief::Solver solver;
  sweep.belief = solver.infer(given);
  sweep.warm = milliseconds([&] { solver.infer(given); });
  sweep.fresh = milliseconds([&] { belief::Solver().infer(given); }, 50);
  return sweep;
}

/// "12.3" or "0.0123": three digits that count.
std::string three(double value) {
  char text[32];
  const int places = value >= 100 ? 0 : value >= 10 ? 1 : value >= 1 ? 2 : value >= 0.1 ? 3 : 4;
  std::snprintf(text, sizeof text, "%.*f", places, value);
  return text;
}

/// A yardstick's time and its ratio to ours; why not, where it was not run.
std::string beside(double ours, double theirs) {
  return three(theirs) + " (" + three(theirs / ours) + " x)";
}

/// The largest difference of a marginal, over all rows printed.
struct Differences {
  double tree = 0, sum = 0;
} differences;

void tell(double& largest, const std::vector<double>& a, const std::vector<double>& b) {
  for (std::size_t i = 0; i < a.size(); ++i) largest = std::max(largest, std::abs(a[i] - b[i]));
}

std::string quickscore_beside(const belief::Case& given, const Sweep& ours) {
  constexpr std::size_t kMost = 16;
  const std::size_t present = test::present_in(given);
  if (present > kMost) return "2^" + std::to_string(present) + " terms";
  tell(differences.sum, test::quickscore<double>(given).present, ours.belief.present_now);
  return beside(ours.warm, milliseconds([&] { test::quickscore<double>(given); }, 50));
}

std::string tree_beside(const belief::Case& given, const Sweep& ours) {
  const auto once = test::junction_tree(given);
  if (!once) return "wider than 24";
  tell(differences.tree, once->present, ours.belief.present_now);
  return beside(ours.warm, milliseconds([&] { test::junction_tree(given); }, 50));
}

void head() {
  std::printf("%-52s %5s %9s %9s  %-22s %-22s\n", "all marginals, ms", "width", "ours", "new order",
              "junction tree", "alternating sum");
}

double row(const std::string& what, const belief::Case& given) {
  const Sweep sweep = time_of(given);
  std::printf("%-52s %5zu %9s %9s  %-22s %-22s%s\n", what.c_str(), sweep.belief.width,
              three(sweep.warm).c_str(), three(sweep.fresh).c_str(),
              tree_beside(given, sweep).c_str(), quickscore_beside(given, sweep).c_str(),
              sweep.belief.exact ? "" : "  BOUNDS ONLY");
  std::fflush(stdout);
  return sweep.warm;
}

void how_fast() {
  std::printf("\nThe rows of \"How fast\"\n");
  head();
  struct Wanted {
    std::size_t cylinders, present_of_engine;
    double milliseconds;
  };
  for (const Links links : {Links::dense, Links::sparse, Links::crossing}) {
    for (const Wanted wanted : {Wanted{4, 4, 0.03}, {4, 8, 1}, {4, 12, 20}, {12, 4, 0.06}}) {
      const belief::Case given = test::synthetic_case(
          1, {.cylinders = wanted.cylinders, .links = links}, {wanted.present_of_engine, 2, 40});
      row(std::string(name_of(links)) + ", " + std::to_string(wanted.cylinders) + " cylinders, " +
              std::to_string(wanted.present_of_engine) + " + 2 each (reach " +
              three(wanted.milliseconds) + ")",
          given);
    }
  }
  std::printf("largest difference of a marginal from the junction tree: %.1e, from the sum: %.1e\n",
              differences.tree, differences.sum);
}

/// Half of the findings are the engine's, the others spread over the cylinders.
belief::Case spread_case(std::size_t cylinders, std::size_t present, Links links) {
  const std::size_t of_engine = (present + 1) / 2;
  belief::Case given =
      test::synthetic_case(2, {.cylinders = cylinders, .links = links}, {of_engine, present, 0});
  std::size_t of_cylinders = present - of_engine;
  std::vector<std::size_t> taken(cylinders, 0);
  const auto cylinder_of = [](std::size_t f) { return (f - 30) / 25; };
  belief::Case few = given;
  few.levels.clear();
  for (std::size_t round = 0; few.levels.size() < present && round < present; ++round) {
    for (const belief::LevelObservation& seen : given.levels) {
      const bool of_one = seen.finding >= 30;
      if (!of_one && round == 0) few.levels.push_back(seen);
      if (!of_one || of_cylinders == 0 || taken[cylinder_of(seen.finding)] != round) continue;
      ++taken[cylinder_of(seen.finding)];
      --of_cylinders;
      few.levels.push_back(seen);
    }
  }
  return few;
}

void grid(Links links) {
  std::printf("\nAll marginals by cylinders and present findings (half of the engine), %s, ms\n",
              name_of(links));
  const std::vector<std::size_t> cylinders = {1, 2, 4, 6, 8, 12};
  std::printf("%8s", "present");
  for (const std::size_t c : cylinders) std::printf(" %9zu", c);
  std::printf("\n");
  std::vector<std::vector<double>> by_cylinders(cylinders.size());
  std::vector<double> present_counts, cylinder_counts(cylinders.begin(), cylinders.end());
  for (std::size_t present = 2; present <= 20; present += 2) {
    present_counts.push_back(static_cast<double>(present));
    std::printf("%8zu", present);
    std::vector<double> of_row;
    for (std::size_t i = 0; i < cylinders.size(); ++i) {
      belief::Solver solver;
      const belief::Case given = spread_case(cylinders[i], present, links);
      const bool exact = solver.infer(given).exact;
      of_row.push_back(milliseconds([&] { solver.infer(given); }, 40));
      by_cylinders[i].push_back(of_row.back());
      std::printf(" %8s%s", three(of_row.back()).c_str(), exact ? " " : "~");
      std::fflush(stdout);
    }
    std::vector<double> logs;
    for (const double c : cylinder_counts) logs.push_back(std::log(c));
    std::printf("   time ~ cylinders^%.2f\n", bench::growth(logs, of_row));
  }
  std::printf("%8s", "fitted");
  for (const auto& times : by_cylinders) {
    std::printf("   x %5.2f ", std::exp(bench::growth(present_counts, times)));
  }
  std::printf("  a present finding more (~: bounds only)\n");
}

/// How far apart the bounds lie where 18 findings of the engine tie all causes together.
void bounds_by_time() {
  std::printf("\nBounds, 4 cylinders, 18 + 2 each, 40 absent: mean (widest) of high - low\n");
  std::printf("%10s", "splits");
  const std::vector<std::size_t> splits = {0, 4, 16, 64, 256};
  for (const std::size_t s : splits) std::printf(" %24zu", s);
  std::printf("\n");
  for (const Links links : {Links::dense, Links::sparse, Links::crossing}) {
    const belief::Case given = test::synthetic_case(1, {.links = links}, {18, 2, 40});
    std::printf("%10s", name_of(links));
    belief::Bounding bounds(given);
    double spent = milliseconds([&] { belief::Bounding once(given); }, 1);
    std::size_t done = 0;
    for (const std::size_t wanted : splits) {
      spent += bench::once([&] {
        while (done < wanted && bounds.refine()) ++done;
      });
      double sum = 0, widest = 0;
      for (std::size_t c = 0; c < bounds.low().size(); ++c) {
        sum += bounds.high()[c] - bounds.low()[c];
        widest = std::max(widest, bounds.high()[c] - bounds.low()[c]);
      }
      std::printf("   %.4f (%.3f) %6.0f ms", sum / static_cast<double>(bounds.low().size()), widest,
                  spent);
      std::fflush(stdout);
    }
    std::printf("\n");
  }
}

}  // namespace

int main(int count, char** words) {
  std::printf("%s\n", bench::machine_line().c_str());
  const std::string only = count > 1 ? words[1] : "";
  if (only.empty() || only == "program") bench::print_processes();
  if (only.empty() || only == "rows") how_fast();
  if (only.empty() || only == "grid") {
    for (const Links links : {Links::dense, Links::sparse, Links::crossing}) grid(links);
  }
  if (only.empty() || only == "bounds") bounds_by_time();
  if (only.empty() || only == "program") bench::print_shipped();
  return 0;
}
