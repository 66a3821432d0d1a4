/// @file
/// The study of cancellation: the textbook's alternating sum loses its digits as findings present
/// grow in number, the sweep does not. Reference: the same sum in 100 digits.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <map>

#include "engine/belief/infer.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/synthetic.hpp"
#include "tests/support/yardsticks.hpp"

namespace tickover::belief_cancellation_test {
namespace {

using namespace belief;

/// 80 causes and 130 findings, all of which are seen.
constexpr test::SyntheticShape kShape{.causes_of_engine = 20, .links = test::Links::sparse};

/// The largest errors of a marginal, over cases with the same number of present findings.
struct Errors {
  std::size_t cases = 0;
  double ours = 0, sum = 0, long_sum = 0;
};

void tell(double& worst, const std::vector<double>& got, const std::vector<double>& reference) {
  for (std::size_t i = 0; i < got.size(); ++i) {
    const double error = std::abs(got[i] - reference[i]);
    if (!(error <= worst)) worst = error;  // not a number is the worst
  }
}

std::map<std::size_t, Errors> study(std::size_t cases, std::size_t most_present) {
  std::map<std::size_t, Errors> by_present;
  std::size_t done = 0;
  for (std::uint64_t seed = 0; done < cases; ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    const Network network = test::synthetic_network(random, kShape);
    const Case given = test::sampled_case(random, network);
    const std::size_t present = test::present_in(given);
    if (present == 0 || present > most_present) continue;
    ++done;
    const std::vector<double> reference = test::quickscore_in_100_digits(given).present;
    Errors& errors = by_present[present];
    ++errors.cases;
    const Belief belief = infer(given);
    CHECK(belief.exact);
    double ours = 0;
    tell(ours, belief.present_now, reference);
    CHECK(ours <= 1e-12);
    for (std::size_t c = 0; c < reference.size(); ++c) {  // of its size too, where it is not tiny
      if (reference[c] < 1e-9) continue;
      CHECK(std::abs(belief.present_now[c] / reference[c] - 1) <= 1e-10);
    }
    errors.ours = std::max(errors.ours, ours);
    tell(errors.sum, test::quickscore<double>(given).present, reference);
    tell(errors.long_sum, test::quickscore<long double>(given).present, reference);
  }
  return by_present;
}

}  // namespace

TEST_CASE("nothing cancels, where the textbook's sum loses its digits", "[belief]") {
  const auto by_present = study(test::cases(250), 10);
  double worst_sum = 0;
  for (const auto& [present, errors] : by_present) {
    if (present >= 6) worst_sum = std::max(worst_sum, errors.sum);
  }
  CHECK(worst_sum > 1e-9);  // else the study shows nothing
}

TEST_CASE("the cancellation study as a table, up to 13 present", "[.][measure][cancellation]") {
  std::printf("%8s %6s %10s %12s %16s   largest error of a marginal\n", "present", "cases", "ours",
              "double sum", "long double sum");
  for (const auto& [present, errors] : study(250, 13)) {
    std::printf("%8zu %6zu %10.1e %12.1e %16.1e\n", present, errors.cases, errors.ours, errors.sum,
                errors.long_sum);
  }
}

}  // namespace tickover::belief_cancellation_test
