/// @file
/// Places that nothing tells apart are planned for alike.
#include "engine/plan/exchange.hpp"

#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_exchange_test {
namespace {

using plan::Course;
using plan::Exchange;
using plan::Forecast;
using plan::Proposal;
using test::JobWriter;

/// Its first question is for all cylinders at once.
Diagnosis idles_only_propped() {
  JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idles-only-propped", "yes");
  return test::diagnose(job);
}

template <typename Act>
void each_pair(const Diagnosis& job, const Act& act) {
  for (const Proposal& proposal : job.advise({}, 4).proposals) {
    for (const Forecast& a : proposal.forecasts) {
      for (const Forecast& b : proposal.forecasts) {
        if (const auto exchange = Exchange::between(job.workshop(), a, b)) act(*exchange, a, b);
      }
    }
  }
}

std::vector<std::pair<std::size_t, std::size_t>> steps_of(const Course& course) {
  std::vector<std::pair<std::size_t, std::size_t>> all;
  for (const plan::Batch& batch : course.batches) {
    for (const plan::CourseStep& step : batch.steps) {
      all.emplace_back(step.spot, step.look ? step.look->instance : 0);
    }
  }
  return all;
}

}  // namespace

TEST_CASE("what follows a result costs the same wherever nothing tells the places apart",
          "[plan][exchange]") {
  std::size_t pairs = 0;
  each_pair(idles_only_propped(), [&](const Exchange&, const Forecast& a, const Forecast& b) {
    CAPTURE(a.answers.front().second, a.probability);
    CHECK(a.probability == Approx(b.probability).epsilon(1e-6));
    CHECK(a.expected_minutes == Approx(b.expected_minutes).epsilon(1e-6));
    ++pairs;
  });
  CHECK(pairs >= 12);  // each of four cylinders against each other
}

TEST_CASE("a course moved there and back is the course", "[plan][exchange]") {
  std::size_t moved_elsewhere = 0;
  each_pair(idles_only_propped(),
            [&](const Exchange& exchange, const Forecast& a, const Forecast&) {
              const std::optional<Course> there = exchange.moved(a.course);
              if (!there)
                return;  // a repair without the look that speaks for it has no counterpart
              if (steps_of(*there) != steps_of(a.course)) ++moved_elsewhere;
              const std::optional<Course> back = exchange.moved(*there);
              REQUIRE(back);
              CHECK(steps_of(*back) == steps_of(a.course));
            });
  CHECK(moved_elsewhere > 0);
}

TEST_CASE("results that differ at one place, or at two in other ways, are not exchanged",
          "[plan][exchange]") {
  const Diagnosis job = idles_only_propped();
  const auto answers = [&](const std::vector<std::string>& told) {
    Forecast forecast;
    for (std::size_t i = 0; i < told.size(); ++i) {
      forecast.answers.emplace_back(Place{pack::Scope::cylinder, i + 1}, told[i]);
    }
    return forecast;
  };
  const auto exchanged = [&](const std::vector<std::string>& a, const std::vector<std::string>& b) {
    return Exchange::between(job.workshop(), answers(a), answers(b)).has_value();
  };
  CHECK(exchanged({"cold", "none", "none", "none"}, {"none", "none", "cold", "none"}));
  CHECK_FALSE(exchanged({"cold", "none", "none", "none"}, {"cold", "none", "none", "none"}));
  CHECK_FALSE(exchanged({"cold", "none", "none", "none"}, {"none", "none", "none", "none"}));
  CHECK_FALSE(exchanged({"cold", "none", "none", "none"}, {"none", "none", "cooler", "none"}));
  CHECK_FALSE(exchanged({"cold", "none", "none", "none"}, {"cold", "none", "none"}));
}

}  // namespace tickover::plan_exchange_test
