/// @file
/// What emissions make of a vector: laid out, and entry by entry.
#include "engine/belief/emissions.hpp"

#include <catch2/catch.hpp>

#include "engine/belief/prepared.hpp"
#include "engine/foundation/random.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/inhibited_case.hpp"

namespace tickover::belief_emissions_test {

using namespace belief;

TEST_CASE("entries by themselves are those of vectors laid out", "[belief][scenarios][property]") {
  constexpr std::size_t kEveryEntry = std::size_t{1} << 40;
  std::size_t compared = 0;
  for (std::uint64_t seed = 0; seed < test::cases(60); ++seed) {
    CAPTURE(seed);
    const Case given = seed % 2 == 0 ? test::random_case(seed) : test::inhibited_case(seed);
    Prepared ready;
    ready.pose(given, nullptr, false);
    const Problem& problem = ready.problem();
    Emissions emissions(problem, ready.schedule());
    std::vector<double> before(std::size_t{1} << ready.schedule().width);
    RandomStream random(seed);
    for (double& entry : before) entry = random.next();
    for (const Step& step : ready.schedule().steps) {
      if (step.kind != StepKind::apply) continue;
      const Range& states = problem.variables[step.index];
      for (std::uint32_t s = states.begin; s < states.end; ++s) {
        const State& state = problem.states[s];
        if (state.emissions.size() == 0) continue;
        Chain single = emissions.chain(state, before, 0);
        Chain laid_out = emissions.chain(state, before, kEveryEntry);
        REQUIRE(single.after.empty());
        REQUIRE(laid_out.after.size() == state.emissions.size());
        for (std::uint32_t bits = 0; bits < before.size(); bits += 1 + bits / 3) {
          CHECK(emissions.last(single, bits) ==
                Approx(emissions.last(laid_out, bits)).epsilon(1e-12));
          ++compared;
        }
      }
    }
  }
  CHECK(compared > 100);
}

}  // namespace tickover::belief_emissions_test
