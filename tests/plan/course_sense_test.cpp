/// @file
/// Courses as a mechanic would go them: nothing is done twice, nothing is fitted on sight of
/// nothing that a look would spare.
#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_course_sense_test {
namespace {

using plan::CourseStep;

/// A repair that mends a cause as surely as this leaves nothing to look for.
constexpr double kSure = 0.9;

const std::vector<std::vector<std::pair<std::string, std::string>>> kComplaints = {
    {{"idle-hunts", "clear"}},
    {{"speed-hangs", "clear"}, {"flat-spot-off-idle", "clear"}},
    {{"weak-wide-open", "clear"}, {"fades-under-load", "yes"}},
    {{"misfire-under-load", "yes"}, {"idle-hunts", "none"}},
    {{"hard-cold-start", "yes"}, {"steady-surge", "clear"}, {"overrun-popping", "none"}}};

plan::Course course_for(const std::string& machine,
                        const std::vector<std::pair<std::string, std::string>>& complaint) {
  test::JobWriter job(test::shipped_sheet(machine));
  for (const auto& [symptom, level] : complaint) job.record(symptom, level);
  return test::diagnose(job).advise().course_now;
}

bool mends(const CourseStep& repair, const CourseStep& later) {
  return !repair.look &&
         std::all_of(later.removals.begin(), later.removals.end(), [&](const belief::Removal& one) {
           return std::any_of(repair.removals.begin(), repair.removals.end(),
                              [&](const belief::Removal& done) {
                                return done.cause == one.cause && done.success >= kSure;
                              });
         });
}

/// What `step` is for was done by one before it, or it looks at what it then mends in any case.
bool senseless(const CourseStep& before, bool same_batch, const CourseStep& step) {
  if (mends(before, step)) return true;
  return same_batch && before.look && !step.look && before.spot == step.spot;
}

}  // namespace

TEST_CASE("no course looks at or mends what it has mended", "[plan][course]") {
  std::size_t pairs = 0;
  for (const std::string& machine : test::shipped_machines()) {
    for (const auto& complaint : kComplaints) {
      std::vector<std::pair<std::size_t, CourseStep>> done;
      const plan::Course course = course_for(machine, complaint);
      for (std::size_t b = 0; b < course.batches.size(); ++b) {
        for (const CourseStep& step : course.batches[b].steps) {
          for (const auto& [batch, before] : done) {
            CAPTURE(machine, complaint.front().first, before.repair, step.repair, batch, b);
            CHECK_FALSE(senseless(before, batch == b, step));
            ++pairs;
          }
          done.emplace_back(b, step);
        }
      }
    }
  }
  CHECK(pairs > 1000);
}

TEST_CASE("what was repaired in vain is not repaired again", "[plan][course]") {
  test::JobWriter job(test::shipped_sheet("triple-inline"));
  job.record("idle-hunts", "clear").record("speed-hangs", "clear");
  job.repair("renew-intake-rubber", {1, 2, 3}).verify("still");
  const plan::Advice advice = test::diagnose(job).advise();
  REQUIRE_FALSE(advice.course_now.batches.empty());
  const auto renews = [](const CourseStep& step) {
    return test::shipped_pack().repairs[step.repair].id == "renew-intake-rubber";
  };
  for (const plan::Batch& batch : advice.course_now.batches) {
    CHECK(std::none_of(batch.steps.begin(), batch.steps.end(), renews));
  }
}

// As a machine is taken apart and put together again; what is almost certain comes before.
TEST_CASE("a batch looks before it repairs, and opens little before much", "[plan][course]") {
  std::size_t looks = 0, repairs = 0;
  for (const std::string& machine : test::shipped_machines()) {
    for (const auto& complaint : kComplaints) {
      test::JobWriter writer(test::shipped_sheet(machine));
      for (const auto& [symptom, level] : complaint) writer.record(symptom, level);
      const Diagnosis job = test::diagnose(writer);
      const Access& access = job.workshop().access();
      for (const plan::Batch& batch : job.advise().course_now.batches) {
        double deepest_look = 0, shallowest_repair = 1e9;
        bool repairing = false;
        for (const CourseStep& step : batch.steps) {
          const AccessNeed& need = step.look ? step.look->need : step.need;
          const double deep = access.minutes({}, need.open).open;
          CAPTURE(machine, complaint.front().first, step.repair, deep);
          if (step.look) {
            CHECK_FALSE(repairing);
            if (need.shut.empty()) CHECK(deep >= deepest_look);
            if (need.shut.empty()) deepest_look = deep;
            ++looks;
          } else if (!need.running) {
            repairing = true;
            CHECK(deep <= shallowest_repair);
            shallowest_repair = deep;
            ++repairs;
          }
        }
      }
    }
  }
  CHECK(looks > 100);
  CHECK(repairs > 30);
}

TEST_CASE("what is almost certain and lies open is put right first", "[plan][course]") {
  test::JobWriter job(test::shipped_sheet("twin-parallel"));
  job.record("speed-hangs", "clear").record("rubber-check-off", "split", {2});
  const plan::Advice advice = test::diagnose(job).advise();
  REQUIRE_FALSE(advice.course_now.batches.empty());
  const CourseStep& first = advice.course_now.batches.front().steps.front();
  CHECK_FALSE(first.look);
  CHECK(test::shipped_pack().repairs[first.repair].id == "renew-intake-rubber");
  CHECK(first.place->number == 2);
}

TEST_CASE("what was looked at and is in order is not renewed on sight of nothing",
          "[plan][course]") {
  std::size_t steps = 0;
  for (const std::string id : {"tap-hose-walk", "clamp-check", "port-count"}) {
    test::JobWriter writer(test::shipped_sheet("four-inline"));
    writer.record("speed-hangs", "clear");
    const pack::Pack& pack = test::shipped_pack();
    const auto check = pack::find(pack.checks, id);
    REQUIRE(check);
    const pack::Finding& finding = pack.findings[pack.checks[*check].finding];
    const bool each = finding.scope != pack::Scope::engine;
    for (std::size_t cylinder = 1; cylinder <= (each ? 4 : 1); ++cylinder) {
      std::vector<std::size_t> at;
      if (each) at.push_back(cylinder);
      writer.record(id, finding.outcomes.front().id, at);
    }
    const Diagnosis job = test::diagnose(writer);
    const std::vector<double> present = job.infer().present_now;
    const std::size_t cause = finding.cause;
    for (const plan::Batch& batch : job.advise().course_now.batches) {
      for (const CourseStep& step : batch.steps) {
        ++steps;
        const bool only_that =
            !step.look && std::all_of(step.removals.begin(), step.removals.end(),
                                      [&](const belief::Removal& one) {
                                        return job.model().causes[one.cause].cause == cause &&
                                               present[one.cause] < 0.1;
                                      });
        CAPTURE(id, pack.repairs[step.repair].id);
        CHECK_FALSE(only_that);
      }
    }
  }
  CHECK(steps > 20);
}

TEST_CASE("what was found is mended before questions whose answers would change nothing of it",
          "[plan][course]") {
  test::JobWriter writer(test::shipped_sheet("single-pumper"));
  writer.record("fades-under-load", "yes").record("stops-on-road", "yes");
  writer.record("tank-level-check", "enough");
  const auto first = [](const plan::Advice& advice) { return advice.proposals.front(); };
  // several may be the matter
  CHECK(first(test::diagnose(writer).advise()).kind != plan::ActionKind::course);
  writer.record("cap-open-test", "yes");
  const plan::Advice advice = test::diagnose(writer).advise();
  const plan::Proposal mend = first(advice);
  REQUIRE(mend.kind == plan::ActionKind::course);
  REQUIRE(mend.batch.steps.size() == 1);
  CHECK(test::shipped_pack().repairs[mend.batch.steps.front().repair].id == "clear-tank-vent");
  // its own price, and no credit for a question that cannot be asked any more
  CHECK(mend.expected_minutes + mend.farther == Approx(advice.course_now.expected_minutes));
}

}  // namespace tickover::plan_course_sense_test
