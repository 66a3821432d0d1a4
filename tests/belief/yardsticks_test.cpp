/// @file
/// The yardsticks of the benchmark answer right, where they can: otherwise comparing with them says
/// nothing.
#include "tests/support/yardsticks.hpp"

#include <catch2/catch.hpp>

#include "engine/belief/infer.hpp"
#include "tests/support/synthetic.hpp"

namespace tickover::belief_yardsticks_test {
namespace {

using namespace belief;
using test::Links;

test::SyntheticShape small_shape(Links links) {
  return {.cylinders = 3,
          .causes_of_cylinder = 5,
          .causes_of_engine = 6,
          .findings_of_cylinder = 4,
          .findings_of_engine = 6,
          .links = links};
}

double largest_difference(const std::vector<double>& a, const std::vector<double>& b) {
  REQUIRE(a.size() == b.size());
  double largest = 0;
  for (std::size_t i = 0; i < a.size(); ++i) largest = std::max(largest, std::abs(a[i] - b[i]));
  return largest;
}

}  // namespace

TEST_CASE("junction tree, alternating sum and sweep agree on synthetic networks", "[belief]") {
  for (const Links links : {Links::dense, Links::sparse, Links::crossing}) {
    for (std::uint64_t seed = 0; seed < 20; ++seed) {
      CAPTURE(seed, static_cast<int>(links));
      const Case given = test::synthetic_case(seed, small_shape(links), {2, 1, 6});
      const Belief belief = infer(given);
      const auto tree = test::junction_tree(given);
      REQUIRE(tree);
      CHECK(tree->evidence == Approx(std::exp(belief.log_evidence)).epsilon(1e-10));
      CHECK(largest_difference(tree->present, belief.present_now) < 1e-11);
      // 2^5 terms that cancel: only as good as that
      const test::Marginals sum = test::quickscore<long double>(given);
      CHECK(largest_difference(sum.present, belief.present_now) < 1e-6);
    }
  }
}

}  // namespace tickover::belief_yardsticks_test
