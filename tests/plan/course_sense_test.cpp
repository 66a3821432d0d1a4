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

}  // namespace tickover::plan_course_sense_test
