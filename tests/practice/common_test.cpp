/// @file
/// What every mechanic expects of the shipped pack. Common practice, no source.
#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::practice_common_test {
namespace {

using test::JobWriter;

JobWriter four(const std::vector<std::string>& risks = {}) {
  return JobWriter(test::shipped_sheet("four-inline"), risks);
}

/// Instances of causes, most probable first.
std::vector<std::size_t> leading(const Diagnosis& job) {
  return belief::largest_first(job.infer().present_now);
}

double probability(const Diagnosis& job, const std::string& instance) {
  return job.infer().present_now[test::cause_instance(job.model(), instance)];
}

double prior(const Diagnosis& job, const std::string& instance) {
  return job.model().causes[test::cause_instance(job.model(), instance)].prior;
}

/// The pack's cause of which most faults are expected on the machine.
std::string leading_cause(const Diagnosis& job) {
  const belief::Belief belief = job.infer();
  std::vector<double> sums(job.model().pack.causes.size(), 0.0);
  for (std::size_t i = 0; i < belief.present_now.size(); ++i) {
    sums[job.model().causes[i].cause] += belief.present_now[i];
  }
  return job.model().pack.causes[belief::largest_first(sums, 1).front()].id;
}

const pack::Finding& finding(const std::string& id) {
  const auto& all = test::shipped_pack().findings;
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const pack::Finding& one) { return one.id == id; });
  REQUIRE(found != all.end());
  return *found;
}

struct Look {
  const char *what, *answer, *cause;
};

}  // namespace

TEST_CASE("a hanging speed and old intake rubber point first to the rubbers", "[practice]") {
  JobWriter job = four({"old-rubber"});
  job.record("speed-hangs", "clear");
  CHECK(leading_cause(test::diagnose(job)) == "intake-rubber-cracked");
}

// It leads by far, and stands far above what was thought before.
TEST_CASE("a plain finding speaks for itself", "[practice]") {
  const Look look = GENERATE(values<Look>({{"fuel-level", "7.5mm", "float-level-low@2"},
                                           {"float-height", "21mm", "float-level-low@2"},
                                           {"needle-tip-look", "groove", "float-needle-worn@2"},
                                           {"pilot-jet-look", "shut", "pilot-jet-blocked@2"},
                                           {"main-jet-look", "shut", "main-jet-blocked@2"},
                                           {"diaphragm-look", "torn", "slide-diaphragm-torn@2"}}));
  JobWriter writer = four();
  writer.record(look.what, look.answer, {2});
  const Diagnosis job = test::diagnose(writer);
  const std::vector<std::size_t> order = leading(job);
  const std::vector<double> now = job.infer().present_now;
  CAPTURE(look.what, look.answer, now[order[0]], now[order[1]]);
  CHECK(job.model().causes[order[0]].id == look.cause);
  CHECK(now[order[0]] > 3 * now[order[1]]);
  CHECK(now[order[0]] > 20 * prior(job, look.cause));
}

TEST_CASE("a fault on one cylinder shows on one cylinder", "[practice]") {
  const char* answer = GENERATE("cooler", "cold");
  JobWriter writer = four();
  writer.record("cold-header", answer, {3}).record("cold-header", "none", {1, 2, 4});
  const Diagnosis job = test::diagnose(writer);
  const std::vector<std::size_t> order = leading(job);
  for (std::size_t i = 0; i < 5; ++i) {
    CAPTURE(job.model().causes[order[i]].id);
    const Place place = job.model().causes[order[i]].place;
    CHECK((place.number == 3 || place.scope == pack::Scope::engine));
  }
  CHECK(job.model().causes[order[0]].place.number == 3);
  CHECK(probability(job, "pilot-jet-blocked@1") < 1.2 * prior(job, "pilot-jet-blocked@1"));
}

TEST_CASE("a normal vacuum does not clear a small leak", "[practice]") {
  JobWriter writer = four();
  writer.record("idle-vacuum", "28kPa", {1, 2, 3, 4});
  const Diagnosis job = test::diagnose(writer);
  CHECK(probability(job, "intake-rubber-cracked@2") > prior(job, "intake-rubber-cracked@2") / 4);
}

TEST_CASE("oxygen beside high CO is dilution, not a lean charge", "[practice]") {
  JobWriter writer = four();
  writer.record("exhaust-gas", "CO 2.7% CO2 12.3% HC 60ppm O2 2.1%", {2});
  const Diagnosis job = test::diagnose(writer);
  CHECK(job.model().causes[leading(job).front()].id == "exhaust-joint-leak@2");
  CHECK(probability(job, "intake-rubber-cracked@2") < 1.5 * prior(job, "intake-rubber-cracked@2"));
}

TEST_CASE("what makes it richer is never linked to a sign of lean", "[practice]") {
  const pack::Pack& pack = test::shipped_pack();
  for (const std::string id : {"better-with-choke", "plug-pale", "gas-reaction", "mist-reaction"}) {
    for (const pack::Link& link : finding(id).links) {
      CAPTURE(id, pack.causes[link.cause].id);
      CHECK(pack.causes[link.cause].mixture != pack::Mixture::rich);
    }
  }
  for (const std::string id : {"tailpipe-gas", "exhaust-gas", "idle-co"}) {
    const pack::Direction lean = id == "idle-co" ? pack::Direction::low : pack::Direction::high;
    for (const pack::Link& link : finding(id).links) {
      CAPTURE(id, pack.causes[link.cause].id);
      if (pack.causes[link.cause].mixture == pack::Mixture::rich) CHECK(link.direction != lean);
    }
  }
}

// A dead starter answers nothing warm and silences the test: the numbers and the steps say so.
TEST_CASE("a dead starter spoils the enrichment test, which asks first whether it works",
          "[practice]") {
  const pack::Pack& pack = test::shipped_pack();
  for (const pack::Check& check : pack.checks) {
    if (check.id != "enrichment-test") continue;
    CHECK_THAT(check.how.front(), Catch::Contains("starter does something"));
  }
  for (const pack::Link& link : finding("better-with-choke").links) {
    CHECK(pack.causes[link.cause].id != "starter-plunger-dead");
  }
  std::vector<std::string> spoilers;
  for (const std::size_t cause : finding("better-with-choke").spoiled_by) {
    spoilers.push_back(pack.causes[cause].id);
  }
  CHECK(spoilers == std::vector<std::string>{"starter-plunger-dead"});
}

// It is not a wrong float level, and what mends it is a clean seat.
TEST_CASE("dirt under the float needle stands apart from a float set too high", "[practice]") {
  JobWriter writer = four();
  writer.record("overflow-drips", "yes", {2});
  const Diagnosis drips = test::diagnose(writer);
  CHECK(probability(drips, "float-needle-dirt@2") > 20 * prior(drips, "float-needle-dirt@2"));
  CHECK(probability(drips, "float-level-high@2") > 20 * prior(drips, "float-level-high@2"));
  JobWriter right = writer, high = writer;
  right.record("float-height", "17.5mm", {2});
  high.record("float-height", "14.5mm", {2});
  const Diagnosis height_right = test::diagnose(right), height_low = test::diagnose(high);
  CHECK(probability(height_right, "float-needle-dirt@2") >
        3 * probability(height_right, "float-level-high@2"));
  CHECK(probability(height_low, "float-level-high@2") >
        3 * probability(height_low, "float-needle-dirt@2"));
}

TEST_CASE("every check instructs", "[practice]") {
  for (const pack::Check& check : test::shipped_pack().checks) {
    CAPTURE(check.id);
    CHECK_FALSE(check.purpose.empty());
    CHECK_FALSE(check.how.empty());
    CHECK_FALSE(check.good.empty());
    CHECK_FALSE(check.mistakes.empty());
  }
}

}  // namespace tickover::practice_common_test
