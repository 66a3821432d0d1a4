/// @file
/// Advice on a case so wide that a result of a check can make it too wide for exact belief.
#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_wide_test {

// P(e) without the findings set aside is no P(e) of the case: taken for one, it gave results more
// than certain, and a check a price of hundreds of hours.
TEST_CASE("nothing is dearer than doing it, closing up and handing on", "[plan][wide]") {
  constexpr std::size_t kSymptoms = 13, kTold = 8;
  test::JobWriter writer(test::shipped_sheet("four-inline"), {"long-storage", "old-rubber"});
  std::size_t recorded = 0;
  for (const pack::Finding& finding : test::shipped_pack().findings) {
    const bool of_all = finding.kind == pack::Kind::symptom &&
                        finding.scope == pack::Scope::engine && finding.needs.empty();
    if (!of_all || recorded == kSymptoms) continue;
    writer.record(finding.id, finding.levels.back());
    ++recorded;
  }
  const Diagnosis job = test::diagnose(writer);
  REQUIRE(job.infer().width == belief::kWidest);
  const plan::Workshop& workshop = job.workshop();
  for (const plan::Proposal& one : job.advise({}, kTold).proposals) {
    const double closing = workshop.access().minutes(one.open_after, {}).close;
    CHECK(one.expected_minutes <=
          one.minutes() + one.consumables + closing + workshop.hand_on_minutes() + 1e-6);
    double foreseen = 0;
    for (const plan::Forecast& forecast : one.forecasts) foreseen += forecast.probability;
    CHECK(foreseen <= 1 + 1e-9);
  }
}

// 0.4 and 0.2 by the scenarios, where another result is known to have 0.7.
TEST_CASE("what scenarios say of results is a share of what the exact ones leave", "[plan][wide]") {
  std::vector<plan::Forecast> forecasts(3);
  forecasts[0].probability = 0.7;
  forecasts[0].present = {0.5};
  forecasts[1].probability = 0.4;
  forecasts[2].probability = 0.2;
  SECTION("no result is missing") {
    plan::share_what_is_left(forecasts, -0.3);
    CHECK(forecasts[1].probability == Approx(0.2));
    CHECK(forecasts[2].probability == Approx(0.1));
    CHECK(plan::foreseen(forecasts) == Approx(1));
  }
  SECTION("some are") {
    plan::share_what_is_left(forecasts, 0.2);
    CHECK(forecasts[1].probability == Approx(0.15));
    CHECK(forecasts[2].probability == Approx(0.075));
  }
  CHECK(forecasts[0].probability == 0.7);
}

}  // namespace tickover::plan_wide_test
