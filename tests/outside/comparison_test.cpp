/// @file
/// The same networks by tickover, by textbook ways and by solvers that are not ours, in one run,
/// with processor times. A measure, not a test: tickover_tests "[measure][outside]".
#include <fmt/format.h>
#include <sys/resource.h>
#include <time.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/belief/infer.hpp"
#include "engine/belief/tables/from_case.hpp"
#include "engine/belief/tables/infer.hpp"
#include "tests/support/noisy_or.hpp"
#include "tests/support/outside.hpp"
#include "tests/support/yardsticks.hpp"

namespace tickover::outside_comparison_test {
namespace {

using namespace belief;
using tables::PlainNetwork;

double milliseconds(const timeval& time) {
  return static_cast<double>(time.tv_sec) * 1e3 + static_cast<double>(time.tv_usec) / 1e3;
}

double of_this_thread() {
  timespec time{};
  ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
  return static_cast<double>(time.tv_sec) * 1e3 + static_cast<double>(time.tv_nsec) / 1e6;
}

double of_children() {
  rusage used{};
  ::getrusage(RUSAGE_CHILDREN, &used);
  return milliseconds(used.ru_utime) + milliseconds(used.ru_stime);
}

/// Processor time of `work`, by `clock`: the median of `runs`. Unit: ms.
template <class Work>
double median_of(int runs, double (*clock)(), const Work& work) {
  std::vector<double> times;
  for (int run = 0; run < runs; ++run) {
    const double begin = clock();
    work();
    times.push_back(clock() - begin);
  }
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

std::string three(double value) {
  return fmt::format("{:.{}f}", value, value >= 100 ? 0 : value >= 10 ? 1 : value >= 1 ? 2 : 4);
}

/// A network with next to nothing to do: what remains is starting the process and reading files.
test::OutsideNetwork nothing() {
  const PlainNetwork plain = plain_network(test::noisy_or({1, 1, 1}), tables::Form::decomposed);
  return {plain.graph, plain.observed};
}

double toulbar2_time(const test::OutsideNetwork& network, double& log_evidence) {
  const auto run = [&] { log_evidence = test::toulbar2_log_evidence(network, 1, 20); };
  const double first = median_of(1, of_children, run);
  return std::isnan(log_evidence) ? first : median_of(3, of_children, run);
}

constexpr std::size_t kMostOfBayesjs = 40;  // nodes; it takes minutes soon after

void compare(const test::NoisyOr& shape, double toulbar2_start, double node_start) {
  const Case given = test::noisy_or(shape);
  const PlainNetwork plain = plain_network(given, tables::Form::decomposed);
  const test::OutsideNetwork outside{plain.graph, plain.observed};
  Solver solver;
  const Belief ours = solver.infer(given);
  const double our_ms = median_of(101, of_this_thread, [&] { solver.infer(given); });
  const double fresh_ms = median_of(21, of_this_thread, [&] { infer(given); });
  const bool too_wide = tables::infer(plain.graph, plain.observed).need.too_wide;
  const auto general = [&] { tables::infer(plain.graph, plain.observed); };
  const auto tree = [&] { test::junction_tree(given); };
  const auto sum = [&] { test::quickscore<double>(given); };
  const std::string general_ms = too_wide ? "wide" : three(median_of(3, of_this_thread, general));
  const std::string tree_ms =
      test::junction_tree(given) ? three(median_of(3, of_this_thread, tree)) : "wide";
  const std::string sum_ms = three(median_of(3, of_this_thread, sum));
  double theirs = 0;
  const double their_ms = toulbar2_time(outside, theirs);
  const bool small = plain.nodes.size() <= kMostOfBayesjs;
  const std::string bayesjs_ms =
      small ? three(median_of(1, of_children, [&] { test::bayesjs({outside}); }) - node_start)
            : "-";
  fmt::print("{:>6} {:>8} {:>6} {:>6} {:>9} {:>9} {:>9} {:>9} {:>9} {:>10} {:>9} {:>11}\n",
             shape.causes, shape.present, shape.links, plain.nodes.size(), three(our_ms),
             three(fresh_ms), general_ms, tree_ms, sum_ms,
             std::isnan(theirs) ? "> 20 s" : three(their_ms - toulbar2_start), bayesjs_ms,
             std::isnan(theirs)
                 ? "-"
                 : fmt::format("{:.1e}", std::abs(theirs - ours.log_evidence + plain.log_scale)));
  std::fflush(stdout);
}

}  // namespace

TEST_CASE("the same networks by tickover and by others, with times", "[.][measure][outside]") {
  if (!test::have_toulbar2() || !test::have_bayesjs()) return;
  double none = 0;
  const double toulbar2_start = toulbar2_time(nothing(), none);
  const double node_start = median_of(3, of_children, [] { test::bayesjs({nothing()}); });
  fmt::print(
      "Processor time in ms. Starting up, not in the table: toulbar2 {}, node with bayesjs {}\n",
      three(toulbar2_start), three(node_start));
  fmt::print("{:>6} {:>8} {:>6} {:>6} {:>9} {:>9} {:>9} {:>9} {:>9} {:>10} {:>9} {:>11}\n",
             "causes", "present", "links", "nodes", "ours", "new order", "tables", "tree", "sum",
             "toulbar2", "bayesjs", "ln P(e) off");
  for (const test::NoisyOr& shape : std::vector<test::NoisyOr>{{6, 2, 3},
                                                               {10, 4, 5},
                                                               {20, 6, 8},
                                                               {30, 6, 12},
                                                               {30, 8, 12},
                                                               {40, 8, 16},
                                                               {80, 6, 30},
                                                               {80, 8, 30},
                                                               {80, 10, 30},
                                                               {80, 12, 30}}) {
    compare(shape, toulbar2_start, node_start);
  }
}

}  // namespace tickover::outside_comparison_test
