/// @file
/// Weights of evidence and conflicts on random cases. A failure prints the seed.
#include "engine/belief/weigh.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/belief/enumerate.hpp"
#include "engine/belief/infer.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::belief_weigh_test {
namespace {

using namespace belief;

double odds(double probability) { return probability / (1 - probability); }

bool open_question(double probability) { return 1e-6 < probability && probability < 1 - 1e-6; }

double summed_weights(const Case& given, std::size_t cause) {
  double sum = 0;
  for (const Weight& weight : weights_of_evidence(given, cause)) sum += weight.decibans;
  return sum;
}

/// The case with only the observations of `kept`; what was done to the machine stays done.
Case observed_by(const Case& given, const std::vector<std::size_t>& kept) {
  const auto dropped = [&](const auto& observation) {
    return std::find(kept.begin(), kept.end(), observation.source) == kept.end();
  };
  Case c = given;
  c.levels.erase(std::remove_if(c.levels.begin(), c.levels.end(), dropped), c.levels.end());
  c.soft.erase(std::remove_if(c.soft.begin(), c.soft.end(), dropped), c.soft.end());
  c.seen.erase(std::remove_if(c.seen.begin(), c.seen.end(), dropped), c.seen.end());
  return c;
}

bool impossible(const Case& given) { return std::isinf(enumerate(given).log_evidence); }

}  // namespace

TEST_CASE("prior odds and all weights give the posterior odds", "[belief][weigh][property]") {
  std::size_t compared = 0;
  for (std::uint64_t seed = 0; seed < 400; ++seed) {
    CAPTURE(seed);
    const Case given = test::random_case(seed);
    const Belief belief = infer(given);
    if (belief.contradiction) continue;
    for (std::size_t cause = 0; cause < given.network->causes.size(); ++cause) {
      CAPTURE(cause);
      const double prior = given.network->causes[cause].prior;
      const double posterior = belief.present_at_start[cause];
      if (!open_question(prior) || !open_question(posterior)) continue;
      const double change = decibans(odds(posterior)) - decibans(odds(prior));
      CHECK(summed_weights(given, cause) == Approx(change).margin(1e-7));
      ++compared;
    }
  }
  CHECK(compared > 1000);
}

TEST_CASE("a conflict is impossible, and possible without any one of it",
          "[belief][weigh][property]") {
  std::size_t conflicts = 0;
  for (std::uint64_t seed = 0; seed < test::cases(3000); ++seed) {
    CAPTURE(seed);
    const Case given = test::random_case(seed);
    const std::vector<std::size_t> entries = conflict(given);
    CHECK(entries.empty() != impossible(given));
    if (entries.empty()) continue;
    ++conflicts;
    CHECK(impossible(observed_by(given, entries)));
    for (const std::size_t entry : entries) {
      std::vector<std::size_t> others = entries;
      others.erase(std::find(others.begin(), others.end(), entry));
      CAPTURE(entry);
      CHECK_FALSE(impossible(observed_by(given, others)));
    }
  }
  CHECK(conflicts > test::cases(30));
}

}  // namespace tickover::belief_weigh_test
