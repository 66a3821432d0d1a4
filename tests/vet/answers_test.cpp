/// @file
/// Answers in closed form and predictions of the pack against exact belief and enumeration.
#include "engine/vet/answers.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "engine/belief/enumerate.hpp"
#include "engine/evidence/foresee.hpp"
#include "engine/vet/predict.hpp"
#include "tests/support/near.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::vet_answers_test {
namespace {

using vet::Answers;
using vet::Given;

Model shipped_model(const std::string& machine) {
  return test::diagnose(test::JobWriter(test::shipped_sheet(machine))).model();
}

belief::Case case_of(const belief::Ground& ground, const Given& given) {
  belief::Case out = ground.given({});
  if (given.present) out.seen.push_back({*given.present, 0, 1, 0, 0});
  if (given.absent) out.seen.push_back({*given.absent, 0, 0, 1, 0});
  return out;
}

/// P(answer number `answer` | given) by the engine's inference.
double by_inference(const Model& model, const belief::Ground& ground, std::size_t instance,
                    std::size_t answer, const Given& given) {
  const belief::Case without = case_of(ground, given);
  belief::Case with = without;
  Observation seen;
  seen.finding = instance;
  seen.level = answer;
  if (model.pack.findings[model.findings[instance].finding].kind == pack::Kind::reading) {
    seen.likelihood = foresee(model, instance)[answer].likelihood;
  }
  ground.observe(with, seen);
  return std::exp(belief::log_evidence(with) - belief::log_evidence(without));
}

void check_machine(const std::string& machine, std::uint64_t seed) {
  CAPTURE(machine);
  const Model model = shipped_model(machine);
  const belief::Ground ground(model);
  test::Random random(seed);
  for (std::size_t f = random.below(5); f < model.findings.size(); f += 5) {
    CAPTURE(model.findings[f].id);
    const Answers answers(model, f);
    Given given{random.below(model.causes.size()), random.below(model.causes.size())};
    const std::vector<LinkInstance>& links = model.findings[f].links;
    if (!links.empty()) given.present = links[random.below(links.size())].cause;
    if (given.present == given.absent) given.absent.reset();
    const std::vector<double> probabilities = answers.probabilities(given);
    REQUIRE(probabilities.size() == answers.names().size());
    double sum = 0;
    for (std::size_t a = 0; a < probabilities.size(); ++a) {
      CAPTURE(answers.names()[a]);
      CHECK(probabilities[a] == test::Near{by_inference(model, ground, f, a, given)});
      sum += probabilities[a];
    }
    CHECK(sum == Approx(1).epsilon(1e-12));
  }
}

}  // namespace

TEST_CASE("answers in closed form are those of exact inference", "[vet][answers]") {
  std::uint64_t seed = 1;
  for (const std::string& machine : test::shipped_machines()) check_machine(machine, seed++);
}

TEST_CASE("a cause is linked to what it can move, and to nothing else", "[vet][answers]") {
  const Model model = shipped_model("twin-parallel");
  for (std::size_t f = 0; f < model.findings.size(); f += 3) {
    CAPTURE(model.findings[f].id);
    const Answers answers(model, f);
    for (std::size_t c = 0; c < model.causes.size(); c += 5) {
      const std::vector<double> with = answers.probabilities({c, {}});
      const std::vector<double> without = answers.probabilities({{}, c});
      double distance = 0;
      for (std::size_t a = 0; a < with.size(); ++a) distance += std::abs(with[a] - without[a]);
      CAPTURE(model.causes[c].id);
      CHECK((distance > 1e-9) == answers.linked(c));
    }
  }
}

TEST_CASE("a prediction is what enumeration says", "[vet][predict]") {
  test::SmallPack small(10, 500);
  for (const double prior : {0.1, 0.03, 0.2}) small.cause(prior);
  small.symptom(0.02, {{0, 0.7}, {1, 0.4}});
  small.symptom(0.01, {{1, 0.9}, {2, 0.5}});
  const Model model = test::small_model(small);
  const vet::Prediction prediction = vet::predict(model);

  belief::Case given = belief::Ground(model).given({});
  given.levels = {{0, 0, 0, 0}, {1, 0, 0, 0}};
  const double quiet = static_cast<double>(std::exp(belief::enumerate(given).log_evidence));
  CHECK(prediction.complaint == Approx(1 - quiet).epsilon(1e-12));
  CHECK(prediction.faults == Approx(0.33));
  for (const vet::Expected& one : prediction.causes) {
    const auto absent_share = belief::enumerate(given).present_at_start[one.cause];
    const double prior = model.causes[one.cause].prior;
    const double joint = prior - static_cast<double>(absent_share) * quiet;
    CHECK(one.probability == Approx(joint / (1 - quiet)).epsilon(1e-12));
  }
  REQUIRE(prediction.symptoms.size() == 2);
  for (const vet::ExpectedSymptom& symptom : prediction.symptoms) {
    given.levels = {{symptom.finding, 0, 1, 0}};
    const belief::Enumeration alone = belief::enumerate(given);
    const double present = static_cast<double>(std::exp(alone.log_evidence)) / (1 - quiet);
    CHECK(symptom.present == Approx(present).epsilon(1e-12));
    REQUIRE(symptom.levels.size() == 1);
    CHECK(symptom.levels[0] == Approx(present).epsilon(1e-12));
    for (const vet::Expected& one : symptom.behind) {
      CHECK(one.probability == test::Near{alone.present_at_start[one.cause]});
    }
    CHECK(symptom.behind[0].probability >= symptom.behind[1].probability);
  }
  CHECK(prediction.symptoms[0].present >= prediction.symptoms[1].present);
}

TEST_CASE("a symptom of several places counts once when any shows it", "[vet][predict]") {
  const Model model = shipped_model("four-inline");
  const vet::Prediction prediction = vet::predict(model);
  std::size_t several = 0;
  for (const vet::ExpectedSymptom& symptom : prediction.symptoms) {
    double one_place = 0;
    for (const double level : symptom.levels) one_place += level;
    const bool engine = model.pack.findings[symptom.finding].scope == pack::Scope::engine;
    if (engine) {
      CHECK(symptom.present == Approx(one_place).epsilon(1e-10));
      continue;
    }
    ++several;
    CHECK(symptom.present > one_place);
    CHECK(symptom.present < 4 * one_place);
  }
  CHECK(several > 0);
}

}  // namespace tickover::vet_answers_test
