/// @file
/// Looks behind layers of access that show at once what is wrong: the best order is known, by the
/// bottom-up rule, and the planner is held against it.
#include "tests/support/inside_information.hpp"

#include <catch2/catch.hpp>

#include "tests/support/optimum.hpp"

namespace tickover::plan_inside_information_test {
namespace {

using test::LayerForest;
using test::Order;
using test::Random;

constexpr double kSame = 1e-9;
/// So dear that nothing is repaired or handed on before all that tells of it was looked at.
constexpr double kRepair = 1000, kHandOn = 6000, kUnlisted = 0.2;
/// Minutes by which two faults at once, a million times rarer than one, may move a price.
constexpr double kTwoAtOnce = 0.05;

/// Tank, airbox, carburettors, bowls; our own example, brute-forced when it was made.
LayerForest chain() {
  return {{{{}, 10}, {0, 15}, {1, 45}, {2, 16}},
          {{{}, .10, 3},
           {{}, .08, 5},
           {0, .12, 8},
           {1, .10, 4},
           {2, .15, 10},
           {2, .10, 12},
           {3, .25, 6},
           {3, .10, 8}}};
}

test::JobWriter complaint() {
  test::JobWriter writer(test::plain_sheet());
  writer.record("symptom-0", "yes");
  return writer;
}

/// What a policy costs besides the repair of what is found, or handing on what is not.
double besides(double minutes) { return minutes - (1 - kUnlisted) * kRepair - kUnlisted * kHandOn; }

}  // namespace

TEST_CASE("the chain of tank, airbox, carburettors and bowls when results are seen at once",
          "[plan][inside]") {
  const LayerForest forest = chain();
  const Order best = test::bottom_up(forest);
  // tap, lead, coil, filter, rubber, pilot jet, float, diaphragm
  CHECK(best == Order{0, 1, 2, 3, 4, 6, 7, 5});
  CHECK(test::minutes_of(forest, best) == Approx(81.26).margin(0.005));
  CHECK(test::least_of_all_orders(forest) == Approx(81.26).margin(0.005));
  CHECK(test::minutes_of(forest, test::myopic(forest)) == Approx(82.06).margin(0.005));
  CHECK(test::minutes_of(forest, test::plain(forest)) == Approx(109.66).margin(0.005));
}

TEST_CASE("bottom-up is the best of all orders on every forest of layers", "[plan][inside]") {
  std::size_t myopic_worse = 0;
  for (std::uint64_t seed = 0; seed < 400; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const LayerForest forest = test::random_forest(random, 9, 0);
    const double best = test::least_of_all_orders(forest);
    CHECK(test::minutes_of(forest, test::bottom_up(forest)) == Approx(best).epsilon(kSame));
    if (test::minutes_of(forest, test::myopic(forest)) > best * (1 + kSame)) ++myopic_worse;
  }
  CHECK(myopic_worse > 20);  // the rule is not the same as looking at the next action alone
}

namespace {

/// A forest as a job, and what the planner's policy costs there, repair and handing on aside.
struct Played {
  explicit Played(const LayerForest& forest)
      : small(test::as_pack(forest, kRepair, kHandOn)),
        job(small.pack, complaint().journal(), test::machine_schema(), "test"),
        problem(job, {}) {}

  double planner() const {
    return besides(test::planner_cost(problem, complaint().journal(), {}).minutes);
  }

  test::SmallPack small;
  Diagnosis job;
  test::SmallJob problem;
};

}  // namespace

// The optimum of all policies is held against the rule too: its assumptions do hold here.
TEST_CASE("the planner against the bottom-up order", "[plan][inside]") {
  double sum = 0, worst = 0;
  constexpr std::uint64_t kForests = 30;
  for (std::uint64_t seed = 0; seed < kForests; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const LayerForest forest = test::random_forest(random, 4, kUnlisted);
    const Played played(forest);
    const double rule = test::minutes_of(forest, test::bottom_up(forest));
    CHECK(besides(test::optimum(played.problem).minutes) == Approx(rule).margin(kTwoAtOnce));
    const double minutes = played.planner();
    CHECK(minutes >= rule - kTwoAtOnce);
    sum += minutes / rule - 1;
    worst = std::max(worst, minutes / rule - 1);
  }
  CHECK(sum / kForests < 0.01);
  CHECK(worst < 0.05);
}

TEST_CASE("the planner on the chain of tank, airbox, carburettors and bowls", "[plan][inside]") {
  LayerForest forest = chain();
  for (test::LayerAction& action : forest.actions) action.p *= 1 - kUnlisted;
  const double rule = test::minutes_of(forest, test::bottom_up(forest));
  const double minutes = Played(forest).planner();
  CHECK(minutes >= rule - kTwoAtOnce);
  CHECK(minutes < 1.03 * rule);
}

}  // namespace tickover::plan_inside_information_test
