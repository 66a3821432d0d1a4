/// @file
/// What can be done on a machine: each repair once at a place, however its causes are placed.
#include <catch2/catch.hpp>
#include <set>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_workshop_test {
namespace {

// A rubber is a cylinder's, its clamp a carburettor's: taken for two repairs, a course renewed each
// rubber twice in one go, and paid twice.
TEST_CASE("no repair can be done twice at one cylinder", "[plan][workshop]") {
  for (const std::string& machine : test::shipped_machines()) {
    const Diagnosis job = test::diagnose(
        test::JobWriter(test::shipped_sheet(machine), {}).record("speed-hangs", "clear"));
    std::set<std::pair<std::size_t, std::size_t>> seen;
    for (const plan::CourseStep& step : job.workshop().steps()) {
      if (step.look) continue;
      for (const std::size_t cylinder : job.model().cylinders_of(step.place.value_or(Place{}))) {
        CAPTURE(machine, job.model().pack.repairs[step.repair].id, cylinder);
        CHECK(seen.insert({step.repair, cylinder}).second);
      }
    }
    CHECK(seen.size() > 20);
  }
}

// What a course thinks it removes is what the entry of that repair will remove.
TEST_CASE("a step of a course removes what its entry does", "[plan][workshop]") {
  for (const std::string& machine : test::shipped_machines()) {
    test::JobWriter writer(test::shipped_sheet(machine), {});
    writer.record("speed-hangs", "clear");
    const Diagnosis before = test::diagnose(writer);
    for (const plan::CourseStep& step : before.workshop().steps()) {
      const std::string& id = before.model().pack.repairs[step.repair].id;
      if (step.look) continue;
      CAPTURE(machine, id);
      test::JobWriter done = writer;
      done.repair(id, step.place ? before.model().cylinders_of(*step.place) : test::Cylinders{});
      std::set<std::size_t> planned, recorded;
      for (const belief::Removal& one : step.removals) planned.insert(one.cause);
      const Diagnosis after = test::diagnose(done);
      for (const auto& one : after.evidence().repairs) recorded.insert(one.cause);
      CHECK(planned == recorded);
    }
  }
}

}  // namespace
}  // namespace tickover::plan_workshop_test
