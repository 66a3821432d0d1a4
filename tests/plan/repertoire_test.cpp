/// @file
/// Courses priced in each scenario, against the prices that planning them told.
#include "engine/plan/repertoire.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "engine/belief/scenarios.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::plan_repertoire_test {
namespace {

using plan::Course;
using plan::Repertoire;

struct Planned {
  explicit Planned(const std::string& machine, const std::string& risk, double comeback = 0)
      : job(test::diagnose(test::JobWriter(test::shipped_sheet(machine), {risk})
                               .record("idle-hunts", "clear")
                               .record("speed-hangs", "slight"))),
        sample(job.ground().network(), belief::draw_scenarios(job.given(), job.complaint(), 600)),
        weights(sample.shares()),
        cures(sample, weights),
        workshop(job.model(), shop_with(comeback)),
        done(plan::nothing_done(job.model())),
        course(plan::plan_course(workshop, {cures, done, {}, false})) {}

  static plan::Shop shop_with(double comeback) {
    plan::Shop shop;  // prices in minutes
    if (comeback > 0) shop.prices = plan::Shop::Prices{"EUR", 1, {}, comeback, {}, {}};
    return shop;
  }

  const Diagnosis job;
  const plan::Sample sample;
  const std::vector<double> weights;
  plan::SampleCures cures;
  const plan::Workshop workshop;
  const plan::Done done;
  const Course course;
};

bool looks(const Course& course) {
  for (const plan::Batch& batch : course.batches) {
    for (const plan::CourseStep& step : batch.steps) {
      if (step.look) return true;
    }
  }
  return false;
}

Course without_looks(Course course) {
  for (plan::Batch& batch : course.batches) {
    std::erase_if(batch.steps, [](const plan::CourseStep& step) { return step.look.has_value(); });
  }
  std::erase_if(course.batches, [](const plan::Batch& batch) { return batch.steps.empty(); });
  return course;
}

double minutes(const Planned& planned, const Repertoire& repertoire, const OpenLayers& open) {
  const std::size_t last = repertoire.size() - 1;
  return repertoire.first_minutes(last, open) + repertoire.later_minutes(last, planned.weights, 1);
}

}  // namespace

// Planning charges the repair after a look as often as the look can at most speak for it; each
// scenario knows how often it does.
TEST_CASE("a course costs in its scenarios what planning it said, or a little less",
          "[plan][repertoire]") {
  for (const std::string machine : {"single", "twin-parallel", "four-inline"}) {
    for (const std::string risk : {"long-storage", "old-rubber"}) {
      CAPTURE(machine, risk);
      Planned planned(machine, risk, risk == "old-rubber" ? 1000 : 0);
      REQUIRE_FALSE(planned.course.batches.empty());
      CHECK((planned.course.expected_comebacks > 0) == (risk == "old-rubber"));
      Repertoire repertoire(planned.workshop, planned.sample, planned.done);
      repertoire.add(planned.course);
      const double priced = minutes(planned, repertoire, {});
      CHECK(priced <= planned.course.expected_minutes * (1 + 1e-9));
      CHECK(priced >= planned.course.expected_minutes * 0.97);
    }
  }
}

TEST_CASE("without looks both say the same", "[plan][repertoire]") {
  std::size_t compared = 0;
  for (const std::string machine : {"single", "four-inline"}) {
    CAPTURE(machine);
    Planned planned(machine, "long-storage");
    const Course repairs = without_looks(planned.course);
    if (repairs.batches.empty()) continue;
    const Course followed = plan::cheapest_course(
        planned.workshop, {planned.cures, planned.done, {}, false}, {&repairs});
    REQUIRE_FALSE(looks(followed));
    Repertoire repertoire(planned.workshop, planned.sample, planned.done);
    repertoire.add(followed);
    CHECK(minutes(planned, repertoire, {}) == Approx(followed.expected_minutes).epsilon(1e-9));
    ++compared;
  }
  CHECK(compared > 0);
}

TEST_CASE("the cheapest is chosen, but not what looks at what is answered", "[plan][repertoire]") {
  Planned planned("four-inline", "old-rubber");
  REQUIRE(looks(planned.course));
  Repertoire repertoire(planned.workshop, planned.sample, planned.done);
  repertoire.add(planned.course);
  CHECK(repertoire.cheapest(planned.weights, 1, {}, {}, 0, {}).course == 1);
  std::vector<std::size_t> looked;
  for (const plan::Batch& batch : planned.course.batches) {
    for (const plan::CourseStep& step : batch.steps) {
      if (step.look) looked = {step.look->instance};
    }
  }
  const Repertoire::Choice choice = repertoire.cheapest(planned.weights, 1, {}, looked, 0, {});
  CHECK(choice.course == 0);  // handing on
  CHECK(choice.minutes == Approx(planned.workshop.hand_on_minutes()));
}

// It was verified for nothing, again and again: a batch of which nothing was left still ended with
// a road test.
TEST_CASE("what is left of a batch when all its looks are answered is not verified",
          "[plan][course]") {
  const Planned planned("four-inline", "long-storage");
  const std::vector<plan::CourseStep>& steps = planned.workshop.steps();
  const auto look = std::find_if(steps.begin(), steps.end(), [](const plan::CourseStep& step) {
    return step.look.has_value();
  });
  REQUIRE(look != steps.end());
  std::vector<double> sound = planned.weights;  // what it looks at is not to blame
  for (const plan::Sample::Part& part :
       planned.sample.lasting_with()[look->removals.front().cause]) {
    sound[part.index] = 0;
  }
  plan::SampleCures cures(planned.sample, sound);
  Course course = without_looks(planned.course);
  course.batches.insert(course.batches.begin(), {{*look}});
  const plan::Done answered = {{look->look->instance}};
  const Course left =
      plan::cheapest_course(planned.workshop, {cures, answered, {}, false}, {&course});
  REQUIRE_FALSE(left.batches.empty());
  for (const plan::Batch& batch : left.batches) CHECK_FALSE(batch.steps.empty());
}

// Two jets of one carburettor were cleaned at once: by a plain repair, and by the repair of a look
// that had been answered since.
TEST_CASE("a repair whose look has been answered is not done twice in one go", "[plan][course]") {
  const Planned planned("four-inline", "long-storage");
  const std::vector<plan::CourseStep>& steps = planned.workshop.steps();
  const auto is_its_repair = [](const plan::CourseStep& look, const plan::CourseStep& step) {
    return !step.look && step.repair == look.repair && step.place == look.place;
  };
  std::size_t followed = 0;
  for (const plan::CourseStep& look : steps) {
    if (!look.look || !look.place) continue;
    const auto repair = std::find_if(steps.begin(), steps.end(), [&](const plan::CourseStep& step) {
      return is_its_repair(look, step);
    });
    const std::size_t cause = look.removals.front().cause;
    std::vector<double> to_blame(planned.weights.size(), 0.0);
    for (const plan::Sample::Part& part : planned.sample.lasting_with()[cause]) {
      to_blame[part.index] = planned.weights[part.index] * part.surely;
    }
    if (repair == steps.end() || planned.sample.lasting_with()[cause].empty()) continue;
    plan::SampleCures cures(planned.sample, to_blame);
    for (const bool look_first : {true, false}) {
      Course course;
      course.batches = {{look_first ? std::vector{look, *repair} : std::vector{*repair, look}}};
      const plan::Done answered = {{look.look->instance}};
      const Course left =
          plan::cheapest_course(planned.workshop, {cures, answered, {}, false}, {&course});
      if (left.batches.empty()) continue;
      const auto& done = left.batches.front().steps;
      CHECK(std::count_if(done.begin(), done.end(), [&](const plan::CourseStep& step) {
              return is_its_repair(look, step);
            }) == 1);
      ++followed;
    }
  }
  CHECK(followed > 10);
}

// A look does not tell whether to do what is done already.
TEST_CASE("no batch holds a repair by itself and then after a look", "[plan][course]") {
  std::size_t looked = 0;
  for (const std::string machine : {"single", "twin-v", "four-inline", "six-inline"}) {
    for (const std::string risk : {"long-storage", "old-rubber"}) {
      CAPTURE(machine, risk);
      const Planned planned(machine, risk);
      for (const plan::Batch& batch : planned.course.batches) {
        for (auto look = batch.steps.begin(); look != batch.steps.end(); ++look) {
          if (!look->look) continue;
          ++looked;
          CHECK(std::none_of(batch.steps.begin(), look, [&](const auto& step) {
            return !step.look && step.repair == look->repair && step.place == look->place;
          }));
        }
      }
    }
  }
  CHECK(looked > 10);
}

}  // namespace tickover::plan_repertoire_test
