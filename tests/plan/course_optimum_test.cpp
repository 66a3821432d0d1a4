/// @file
/// plan_course against an exhaustive search over all courses of small random models. A failure
/// prints the seed.
#include <catch2/catch.hpp>

#include "engine/plan/bound.hpp"
#include "tests/support/exhaustive.hpp"

namespace tickover::plan_course_optimum_test {
namespace {

using test::CourseReference;
using test::Random;

constexpr std::uint64_t kModels = 300;
constexpr std::uint64_t kModelsWithLooks = 60;  // an exhaustive search takes its time

/// A job on a random small pack: the complaint, perhaps a second symptom, perhaps something open,
/// perhaps a repair that did not help.
test::JobWriter random_job(Random& random, const test::SmallPack& small) {
  test::JobWriter job(test::plain_sheet());
  job.record("symptom-0", "yes");
  if (random.chance(0.6)) job.record("symptom-1", random.chance(0.5) ? "yes" : "no");
  if (random.chance(0.3)) job.strip({small.pack.layers.front().id});
  if (random.chance(0.2)) {
    job.repair("repair-0");
    if (random.chance(0.7)) job.verify("still");
  }
  return job;
}

struct Compared {
  double course = 0, by_definition = 0, optimum = 0, bound = 0;
  double excess() const { return course / optimum - 1; }
};

/// The engine's course for the model of a seed, what it costs by definition, and the optimum.
/// `look_at` sees every course too.
Compared compare(std::uint64_t seed, const test::SmallShape& shape) {
  Random random(seed);
  test::SmallPack small = test::random_small_pack(random, shape);
  small.pack.frame.verify_misses.value = 0.1;
  plan::Shop shop;  // in every other one a comeback has its price, in minutes
  if (seed % 2 == 1) shop.prices = plan::Shop::Prices{"EUR", 1, {}, 300, {}, {}};
  const Diagnosis job = test::diagnose(small.pack, random_job(random, small).journal());
  const plan::Workshop workshop(job.model(), shop);
  const belief::Case given = job.given();
  const OpenLayers& open = job.evidence().open_layers;
  const plan::Course course = plan::plan_course(workshop, given, job.complaint(), open);
  CourseReference reference(workshop, given, job.complaint(), open);
  const std::vector<test::StepBatch> batches = reference.batches_of(course);
  test::StepSet done = 0;
  for (std::size_t i = 0; i < batches.size(); ++i) {
    for (const std::size_t step : batches[i]) done |= test::StepSet{1} << step;
    CHECK(course.batches[i].cured_after == Approx(reference.cured(done)).epsilon(1e-9));
  }
  CHECK(course.cured == Approx(done == 0 ? course.cured : reference.cured(done)).epsilon(1e-9));
  const belief::Belief belief = belief::infer(given);
  plan::ExactCures cures(job.complaint());
  cures.pose(given, belief.log_evidence, belief.present_now);
  return {course.expected_minutes, reference.minutes(batches), reference.optimum(),
          plan::least_minutes(workshop, cures, open)};
}

constexpr test::SmallShape kRepairsOnly{5, 4, 3, 0};
constexpr test::SmallShape kWithLooks{4, 3, 2, 2};

}  // namespace

// Expected minutes = sum of P(not cured before) * minutes + P(never) * hand-on price, and no course
// can be cheaper than the best one.
TEST_CASE("a course of repairs costs what its definition says, and no less than the best",
          "[plan][course][property]") {
  for (std::uint64_t seed = 0; seed < kModels; ++seed) {
    CAPTURE(seed);
    const Compared found = compare(seed, kRepairsOnly);
    CHECK(found.course == Approx(found.by_definition).epsilon(1e-9));
    CHECK(found.course >= found.optimum * (1 - 1e-9));
    CHECK(found.bound <= found.optimum * (1 + 1e-9));
    CHECK(found.bound > 0);
  }
}

// The repair after a look is charged at most, as if the cause were present whenever it can be.
TEST_CASE("a course that looks before it repairs costs no less than when it is carried out",
          "[plan][course][property]") {
  std::size_t too_cheap = 0, below_optimum = 0;
  for (std::uint64_t seed = 0; seed < kModelsWithLooks; ++seed) {
    CAPTURE(seed);
    const Compared found = compare(seed, kWithLooks);
    if (found.course < found.by_definition * (1 - 1e-9)) ++too_cheap;
    if (found.course < found.optimum * (1 - 1e-9)) ++below_optimum;
  }
  CHECK(too_cheap == 0);
  CHECK(below_optimum == 0);
}

// Two exclusive causes, 0.7 and 0.3; each look takes a minute and is always right, each repair 100
// minutes. First look: 1 + 0.7 * 100. Only if the complaint is still there, which means that it is
// the other: 0.3 * (1 + 100). In all 101.3; without the second look, which tells nothing, 101.
TEST_CASE("a repair after a look is paid as often as the look finds the fault", "[plan][course]") {
  test::SmallPack small(0, 1e4);
  for (const double prior : {0.7e-6, 0.3e-6}) {
    const std::size_t cause = small.cause(prior);
    small.repair({{{cause, 1}}, {0, 100}});
    small.look({cause, 1, 0, {0, 1}});
  }
  small.symptom(0, {{0, 1}, {1, 1}});
  test::JobWriter writer(test::plain_sheet());
  writer.record("symptom-2", "yes");
  const Diagnosis job = test::diagnose(small.pack, writer.journal());
  CourseReference reference(job.workshop(), job.given(), job.complaint(), {});
  CHECK(reference.optimum() == Approx(101).epsilon(1e-4));
  const plan::Advice advice = job.advise();
  CHECK(advice.course_now.expected_minutes >= 101 * (1 - 1e-4));
  CHECK(advice.least_minutes == Approx(100).epsilon(1e-4));  // told which it is, one repair
}

TEST_CASE("how far above the best course", "[.][measure]") {
  for (const test::SmallShape& shape : {kRepairsOnly, kWithLooks}) {
    double sum = 0, worst = 0, by_definition = 0;
    std::uint64_t exact = 0;
    for (std::uint64_t seed = 0; seed < kModels; ++seed) {
      const Compared found = compare(seed, shape);
      sum += found.excess();
      by_definition += found.by_definition / found.optimum - 1;
      worst = std::max(worst, found.excess());
      if (found.excess() < 1e-9) ++exact;
    }
    const double count = static_cast<double>(kModels);
    WARN("looks " << shape.looks << ": mean excess " << 100 * sum / count << " %, worst "
                  << 100 * worst << " %, at the optimum " << exact << " of " << kModels
                  << "; carried out as written " << 100 * by_definition / count << " %");
  }
}

}  // namespace tickover::plan_course_optimum_test
