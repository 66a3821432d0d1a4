/// @file
/// The world that is played agrees with the exact belief: how often a cause is present given what
/// is told, how often a check answers so, how often a repair cures. Fixed seeds; a share may stray
/// from its probability by four and a half standard deviations (about one in 150,000 by chance).
#include <catch2/catch.hpp>

#include "engine/evidence/reading.hpp"
#include "engine/foundation/units.hpp"
#include "engine/plan/results.hpp"
#include "engine/trial/play.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::trial_world_test {
namespace {

using trial::Draws;
using trial::World;

constexpr double kDeviations = 4.5;

/// Truths of one machine in which certain symptoms are present, each at a level.
class Sample {
 public:
  Sample(const Model& model, const std::vector<std::pair<std::string, std::size_t>>& told,
         std::uint64_t draws, std::uint64_t seed) {
    std::vector<trial::Told> wanted;
    for (const auto& [id, level] : told) {
      const FindingInstance& instance = test::finding_instance(model, id);
      wanted.push_back({static_cast<std::size_t>(&instance - model.findings.data()), level});
    }
    for (std::uint64_t i = 0; i < draws; ++i) {
      const World world(model, Draws(seed, i));
      const bool fits = std::all_of(wanted.begin(), wanted.end(), [&](const trial::Told& one) {
        return world.level(one.finding, 0) == one.level;
      });
      if (fits) worlds.push_back(world);
    }
  }

  double count() const { return static_cast<double>(worlds.size()); }

  /// Whether `hits` of the sample fit a probability.
  bool fits(std::size_t hits, double probability) const {
    const double stray = std::sqrt(count() * probability * (1 - probability));
    return std::abs(static_cast<double>(hits) - count() * probability) <= kDeviations * stray + 1;
  }

  std::vector<World> worlds;
};

struct Bench {
  explicit Bench(std::uint64_t draws)
      : job(test::JobWriter(test::shipped_sheet("single"))
                .record("idle-hunts", "clear")
                .record("steady-surge", "clear")),
        diagnosis(test::diagnose(test::shipped_pack(), job.journal())),
        sample(diagnosis.model(), {{"idle-hunts", 2}, {"steady-surge", 2}}, draws, 11) {}
  test::JobWriter job;
  const Diagnosis diagnosis;
  const Sample sample;
};

const Bench& bench() {
  static const Bench all(500'000);
  return all;
}

/// The side of a reading, as forecasts have it.
std::string side_of(const Model& model, const FindingInstance& instance, const std::string& value) {
  const ReadingModel reading = reading_model(model, instance);
  const pack::Finding& finding = model.pack.findings[instance.finding];
  const double si = parse_quantity(value, finding.unit).si;
  if (si < reading.wanted - reading.tolerance) return "low";
  return si > reading.wanted + reading.tolerance ? "high" : "within";
}

}  // namespace

TEST_CASE("causes are present as often as belief has it", "[trial][world]") {
  const Sample& sample = bench().sample;
  REQUIRE(sample.worlds.size() > 1000);
  const belief::Belief belief = bench().diagnosis.infer();
  std::size_t likely = 0;
  for (std::size_t c = 0; c < belief.present_now.size(); ++c) {
    CAPTURE(bench().diagnosis.model().causes[c].id, belief.present_now[c], sample.count());
    const auto hits = std::count_if(sample.worlds.begin(), sample.worlds.end(),
                                    [&](const World& world) { return world.present(c, 0); });
    CHECK(sample.fits(static_cast<std::size_t>(hits), belief.present_now[c]));
    if (belief.present_now[c] > 0.05) ++likely;
  }
  CHECK(likely >= 5);  // so that more than rare causes were compared
}

TEST_CASE("checks answer as often as forecast", "[trial][world]") {
  const Sample& sample = bench().sample;
  const Diagnosis& job = bench().diagnosis;
  const Model& model = job.model();
  belief::Case given = job.given();
  belief::Solver solver;
  const belief::Belief now = solver.infer(given);
  std::size_t compared = 0;
  for (std::size_t f = 0; f < model.findings.size(); ++f) {
    const FindingInstance& instance = model.findings[f];
    const pack::Finding& finding = model.pack.findings[instance.finding];
    const bool left_out = !finding.gases.empty() || finding.sibling_tolerance.has_value();
    if (left_out || instance.id == "idle-hunts" || instance.id == "steady-surge") continue;
    std::map<std::string, std::size_t> answers;
    for (const World& world : sample.worlds) {
      const std::string answer = world.answer(job.evidence(), f, 0, 0);
      ++answers[finding.kind == pack::Kind::reading ? side_of(model, instance, answer) : answer];
    }
    for (const plan::Result& result :
         plan::results_of(solver, job.ground(), model, given, now, instance.finding,
                          {instance.place}, 0, 1e-9)) {
      const std::string& answer = result.answers.front().second;
      CAPTURE(instance.id, answer, result.probability, answers[answer], sample.count());
      CHECK(sample.fits(answers[answer], result.probability));
      ++compared;
    }
  }
  CHECK(compared > 100);
}

TEST_CASE("repairs cure as often as belief has it", "[trial][world]") {
  const Diagnosis& job = bench().diagnosis;
  std::size_t often = 0;
  for (std::size_t r = 0; r < job.model().pack.repairs.size(); ++r) {
    const std::string& id = job.model().pack.repairs[r].id;
    test::JobWriter writer = bench().job;
    if (!job.model().applies(job.model().pack.repairs[r].needs)) continue;
    const Diagnosis after = test::diagnose(test::shipped_pack(), writer.repair(id).journal());
    std::vector<belief::Removal> removals;
    for (const RepairDone& done : after.evidence().repairs) {
      removals.push_back({done.cause, 0, done.success, 0});
    }
    const double cured = belief::cured(job.given(), job.complaint(), removals);
    std::size_t hits = 0;
    for (World world : bench().sample.worlds) {
      world.repair(after.evidence().repairs);
      const auto& complaint = after.evidence().complaint;
      const bool gone = std::all_of(complaint.begin(), complaint.end(),
                                    [&](std::size_t f) { return world.level(f, 1) == 0; });
      if (gone) ++hits;
    }
    CAPTURE(id, cured, hits, bench().sample.count());
    CHECK(bench().sample.fits(hits, cured));
    if (cured > 0.05) ++often;
  }
  CHECK(often >= 1);
}

// What did not help tells something; what helps next must agree too.
TEST_CASE("a second repair cures as often as belief has it after the first did not",
          "[trial][world]") {
  test::JobWriter first = bench().job, still = bench().job;
  still.repair("clean-pilot").verify("still");
  const Diagnosis job = test::diagnose(test::shipped_pack(), still.journal());
  test::JobWriter second = still;
  const Diagnosis after =
      test::diagnose(test::shipped_pack(), second.repair("deep-clean-carburettor").journal());
  std::vector<RepairDone> done;
  std::vector<belief::Removal> removals;
  for (const RepairDone& one : after.evidence().repairs) {
    if (one.epoch < 2) continue;
    done.push_back(one);
    removals.push_back({one.cause, 0, one.success, 0});
  }
  const double cured = belief::cured(job.given(), job.complaint(), removals);
  const std::vector<std::size_t>& complaint = job.evidence().complaint;
  const auto present = [&](const World& world, std::size_t epoch) {
    return std::count_if(complaint.begin(), complaint.end(),
                         [&](std::size_t f) { return world.level(f, epoch) > 0; });
  };
  double not_helped = 0, helped = 0;
  for (World world : bench().sample.worlds) {
    world.repair(job.evidence().repairs);
    if (present(world, 1) != 2) continue;  // still: as it was
    ++not_helped;
    world.repair(done);
    if (present(world, 2) == 0) ++helped;
  }
  CAPTURE(cured, helped, not_helped);
  CHECK(not_helped > 1000);
  CHECK(std::abs(helped - not_helped * cured) <
        kDeviations * std::sqrt(not_helped * cured * (1 - cured)) + 1);
}

TEST_CASE("results are misread as often as asked for", "[trial][world]") {
  const Model& model = bench().diagnosis.model();
  const FindingInstance& hunts = test::finding_instance(model, "idle-hunts");
  const auto f = static_cast<std::size_t>(&hunts - model.findings.data());
  const Sample& sample = bench().sample;
  std::size_t other = 0;
  for (const World& world : sample.worlds) {
    if (world.answer(bench().diagnosis.evidence(), f, 0, 0.3) != "clear") ++other;
  }
  CHECK(sample.fits(other, 0.3 * 2 / 3));  // a third of the misread are read right by chance
}

TEST_CASE("siblings in order read alike, and a moved one stands out", "[trial][world]") {
  test::JobWriter writer(test::shipped_sheet("four-inline"));
  const Diagnosis job = test::diagnose(writer.record("idle-hunts", "clear"));
  const Model& model = job.model();
  double within = 0, in_order = 0, beyond = 0, moved = 0;
  for (std::uint64_t i = 0; i < 3000; ++i) {
    const World world(model, Draws(5, i));
    std::vector<double> values;
    std::vector<bool> low;
    for (std::size_t f = 0; f < model.findings.size(); ++f) {
      if (model.pack.findings[model.findings[f].finding].id != "header-temperature") continue;
      values.push_back(parse_quantity(world.answer(job.evidence(), f, 0, 0)).si);
      low.push_back(world.moved(f, pack::Direction::low, 0));
    }
    const double highest = *std::max_element(values.begin(), values.end());
    for (std::size_t place = 0; place < values.size(); ++place) {
      (low[place] ? moved : in_order) += 1;
      const bool off = highest - values[place] > 18 + 2 * 8;
      if (off && low[place]) ++beyond;
      if (!off && !low[place]) ++within;
    }
  }
  CHECK(within / in_order > 0.8);
  CHECK(beyond / moved > 0.6);
}

}  // namespace tickover::trial_world_test
