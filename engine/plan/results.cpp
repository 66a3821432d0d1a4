#include "engine/plan/results.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/belief/infer.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/plan/advise.hpp"

namespace tickover::plan {
namespace {

/// Simpson's rule needs an even number; the densities are smooth on the scale of the limits.
constexpr int kSlices = 400;

double integrate(const ReadingModel& reading, double from, double to,
                 double ReadingLikelihood::*density) {
  const double width = (to - from) / kSlices;
  double sum = 0;
  for (int i = 0; i <= kSlices; ++i) {
    const double weight = i == 0 || i == kSlices ? 1 : i % 2 == 1 ? 4 : 2;
    sum += weight * (likelihood(reading, from + i * width).*density);
  }
  return sum * width / 3;
}

struct Answer {
  std::string id;
  Observation seen;
};

std::vector<Answer> answers_of(const Model& model, std::size_t instance, std::size_t epoch) {
  const pack::Finding& finding = model.pack.findings[model.findings[instance].finding];
  std::vector<Answer> answers;
  Observation seen;
  seen.finding = instance;
  seen.epoch = epoch;
  if (finding.kind == pack::Kind::reading) {
    const std::vector<ReadingLikelihood> sides = side_likelihoods(model, model.findings[instance]);
    for (std::size_t side = 0; side < sides.size(); ++side) {
      seen.likelihood = sides[side];
      answers.push_back({side == 0 ? "low" : side == 1 ? "within" : "high", seen});
    }
    return answers;
  }
  const bool inspection = finding.kind == pack::Kind::inspection;
  const std::size_t count = inspection ? finding.outcomes.size() : finding.levels.size();
  for (std::size_t level = 0; level < count; ++level) {
    seen.level = level;
    answers.push_back({inspection ? finding.outcomes[level].id : finding.levels[level], seen});
  }
  return answers;
}

class Follower {
 public:
  Follower(const belief::Ground& ground, const Model& model, belief::Case& given, double least)
      : ground_(ground), model_(model), given_(given), least_(least) {}

  void follow(std::size_t finding, const std::vector<Place>& places, std::size_t epoch,
              Result so_far) {
    if (so_far.answers.size() == places.size()) {
      results.push_back(std::move(so_far));
      return;
    }
    const Place place = places[so_far.answers.size()];
    const std::size_t instance = *model_.find_finding(finding, place);
    const std::vector<Answer> answers = answers_of(model_, instance, epoch);
    for (const Answer& answer : answers) {
      const auto mark = sizes();
      ground_.observe(given_, answer.seen);
      const double log = belief::log_evidence(given_);
      const double probability = so_far.probability * std::exp(log - so_far.log_evidence);
      if (probability > least_) {
        Result next = so_far;
        next.answers.emplace_back(place, answer.id);
        next.observations.push_back(answer.seen);
        next.probability = probability;
        next.log_evidence = log;
        follow(finding, places, epoch, std::move(next));
      }
      shrink_to(mark);
    }
  }

  std::vector<Result> results;

 private:
  std::array<std::size_t, 3> sizes() const {
    return {given_.levels.size(), given_.soft.size(), given_.seen.size()};
  }
  void shrink_to(const std::array<std::size_t, 3>& mark) {
    given_.levels.resize(mark[0]);
    given_.soft.resize(mark[1]);
    given_.seen.resize(mark[2]);
  }

  const belief::Ground& ground_;
  const Model& model_;
  belief::Case& given_;
  const double least_;
};

}  // namespace

std::vector<ReadingLikelihood> side_likelihoods(const Model& model,
                                                const FindingInstance& instance) {
  const ReadingModel reading = reading_model(model, instance);
  const double edges[] = {reading.plausible_low, reading.wanted - reading.tolerance,
                          reading.wanted + reading.tolerance, reading.plausible_high};
  std::vector<ReadingLikelihood> sides(3);
  for (double ReadingLikelihood::*density : {&ReadingLikelihood::still, &ReadingLikelihood::low,
                                             &ReadingLikelihood::high, &ReadingLikelihood::both}) {
    double total = 0;
    for (std::size_t side = 0; side < 3; ++side) {
      const double mass = std::max(integrate(reading, edges[side], edges[side + 1], density), 0.0);
      sides[side].*density = mass;
      total += mass;
    }
    for (ReadingLikelihood& side : sides) side.*density /= total;
  }
  return sides;
}

std::vector<Result> results_of(const belief::Ground& ground, const Model& model,
                               belief::Case& given, double log_evidence, std::size_t finding,
                               const std::vector<Place>& places, std::size_t epoch, double least) {
  Follower follower(ground, model, given, least);
  follower.follow(finding, places, epoch, {{}, {}, 1, log_evidence});
  std::stable_sort(follower.results.begin(), follower.results.end(),
                   [](const Result& a, const Result& b) { return a.probability > b.probability; });
  return std::move(follower.results);
}

}  // namespace tickover::plan
