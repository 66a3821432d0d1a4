/// @file
/// Two independent faults behind one complaint: the planner must not be satisfied with the first.
#include <algorithm>
#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_two_faults_test {
namespace {

using test::JobWriter;
using test::SmallPack;

plan::Course course_of(const Diagnosis& job) { return job.advise().course_now; }

/// P(complaint gone) if these causes are removed for certain.
double cured(const Diagnosis& job, const std::vector<std::size_t>& causes) {
  std::vector<belief::Removal> removals;
  for (const std::size_t cause : causes) removals.push_back({cause, 0, 1, 0});
  return belief::cured(job.given(), job.complaint(), removals);
}

bool treats(const plan::Batch& batch, std::size_t cause) {
  return std::any_of(batch.steps.begin(), batch.steps.end(), [&](const plan::CourseStep& step) {
    return std::any_of(step.removals.begin(), step.removals.end(),
                       [&](const belief::Removal& one) { return one.cause == cause; });
  });
}

/// An in-line four that hunts and hangs: an open take-off on cylinder 2 and a shut pilot jet on 3.
JobWriter two_faults() {
  JobWriter job(test::shipped_sheet("four-inline"), {"balanced-recently"});
  job.record("idle-hunts", "clear").record("speed-hangs", "clear");
  job.record("cold-header", "cooler", {3}).record("cold-header", "none", {1, 4});
  return job;
}

}  // namespace

// Each fault alone keeps the complaint up, so curing one of them gains nothing at all: a planner
// that counts single gains would never begin.
TEST_CASE("of two faults that both must go the course takes both", "[plan][course]") {
  SmallPack small(10, 900);
  for (const std::size_t cause : {small.cause(0.1), small.cause(0.1), small.cause(0.1)}) {
    small.repair({{{cause, 0.95}}, {0, 20}});
    small.look({cause, 0.99, 0.01, {0, 5}});
  }
  small.symptom(0.001, {{0, 1}, {1, 1}, {2, 1}});
  JobWriter writer(test::plain_sheet());
  writer.record("symptom-3", "yes");
  writer.record("look-0", "faulty").record("look-1", "faulty").record("look-2", "sound");
  const Diagnosis job = test::diagnose(small.pack, writer.journal());
  CHECK(cured(job, {0}) < 0.1);
  CHECK(cured(job, {1}) < 0.1);
  CHECK(cured(job, {0, 1}) > 0.95);
  const plan::Course course = course_of(job);
  REQUIRE(course.batches.size() >= 1);
  CHECK(treats(course.batches.front(), 0));
  CHECK(treats(course.batches.front(), 1));
  CHECK_FALSE(treats(course.batches.front(), 2));
}

TEST_CASE("after the first fault found the advice leads on to the second", "[plan][course]") {
  JobWriter writer = two_faults();
  writer.record("port-look", "open", {2}).record("port-look", "closed", {1, 3, 4});
  const Diagnosis first = test::diagnose(writer);
  const std::size_t port = test::cause_instance(first.model(), "vacuum-port-open@2");
  CHECK(first.infer().present_now[port] > 0.5);
  writer.record("pilot-jet-look", "shut", {3}).record("pilot-jet-look", "clear", {1, 2, 4});
  const Diagnosis both = test::diagnose(writer);
  const std::size_t jet = test::cause_instance(both.model(), "pilot-jet-blocked@3");
  CHECK(both.infer().present_now[jet] > 0.5);
  CHECK(cured(both, {port}) < cured(both, {port, jet}) - 0.2);
  CHECK(cured(both, {jet}) < cured(both, {port, jet}) - 0.2);
  const plan::Course course = course_of(both);
  REQUIRE(course.batches.size() >= 1);
  CHECK(treats(course.batches.front(), port));
  CHECK(treats(course.batches.front(), jet));
}

TEST_CASE("a fault mended leaves the other in question, and the course goes there",
          "[plan][course]") {
  JobWriter writer = two_faults();
  writer.record("port-look", "open", {2}).repair("close-vacuum-port", {2}).verify("still");
  const Diagnosis job = test::diagnose(writer);
  const std::size_t port = test::cause_instance(job.model(), "vacuum-port-open@2");
  const std::size_t jet = test::cause_instance(job.model(), "pilot-jet-blocked@3");
  const belief::Belief now = job.infer();
  CHECK(now.present_now[port] < now.present_at_start[port] / 5);
  CHECK(now.present_now[jet] > 5 * job.model().causes[jet].prior);
  const plan::Course course = course_of(job);
  CHECK(std::any_of(course.batches.begin(), course.batches.end(),
                    [&](const plan::Batch& batch) { return treats(batch, jet); }));
}

}  // namespace tickover::plan_two_faults_test
