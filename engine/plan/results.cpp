#include "engine/plan/results.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/evidence/foresee.hpp"

namespace tickover::plan {

std::vector<Answer> answers_of(const Model& model, std::size_t instance, std::size_t epoch) {
  const pack::Finding& finding = model.pack.findings[model.findings[instance].finding];
  std::vector<Answer> answers;
  Observation seen;
  seen.finding = instance;
  seen.epoch = epoch;
  if (finding.kind == pack::Kind::reading) {
    for (ForeseenReading& foreseen : foresee(model, instance)) {
      seen.likelihood = std::move(foreseen.likelihood);
      answers.push_back({foreseen.answer, seen});
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

std::vector<Answer> answers_at(const Model& model, std::size_t instance,
                               const std::vector<Answer>& elsewhere) {
  std::vector<Answer> answers = elsewhere;
  for (auto& [id, seen] : answers) {
    for (Way& way : seen.likelihood.ways) {
      if (way.finding != seen.finding) return answers_of(model, instance, seen.epoch);
      way.finding = instance;
    }
    seen.finding = instance;
  }
  return answers;
}

namespace {

class Follower {
 public:
  Follower(belief::Solver& solver, const belief::Ground& ground, const Model& model,
           belief::Case& given, double least)
      : solver_(solver), ground_(ground), model_(model), given_(given), least_(least) {}

  /// `answers` are those of each place.
  void follow(const std::vector<Place>& places, const std::vector<std::vector<Answer>>& answers,
              const Result& so_far) {
    const std::size_t next_place = so_far.answers.size();
    if (next_place == places.size()) return results.push_back(so_far);
    double left = so_far.probability;  // what the answers followed leave for the others
    for (const Answer& answer : answers[next_place]) {
      if (!(at_most(so_far, answer.seen, left) > least_)) continue;
      const auto mark = sizes();
      ground_.observe(given_, answer.seen);
      belief::Belief then = solver_.infer(given_);
      const double probability =
          so_far.probability * std::exp(then.log_evidence - so_far.log_evidence);
      left -= probability;
      if (probability > least_) {
        Result next = so_far;
        next.answers.emplace_back(places[next_place], answer.id);
        next.observations.push_back(answer.seen);
        next.probability = probability;
        next.log_evidence = then.log_evidence;
        next.present = std::move(then.present_now);
        follow(places, answers, next);
      }
      shrink_to(mark);
    }
  }

  std::vector<Result> results;

 private:
  /// The probability of what an inspection shows follows from that of its cause; other answers
  /// have no more than is `left`.
  double at_most(const Result& so_far, const Observation& seen, double left) const {
    const FindingInstance& instance = model_.findings[seen.finding];
    if (!instance.cause) return left;
    const pack::Outcome& outcome = model_.pack.findings[instance.finding].outcomes[seen.level];
    const double present = so_far.present[*instance.cause];
    return so_far.probability *
           (present * outcome.present.value + (1 - present) * outcome.absent.value);
  }

  std::array<std::size_t, 3> sizes() const {
    return {given_.levels.size(), given_.soft.size(), given_.seen.size()};
  }
  void shrink_to(const std::array<std::size_t, 3>& mark) {
    given_.levels.resize(mark[0]);
    given_.soft.resize(mark[1]);
    given_.seen.resize(mark[2]);
  }

  belief::Solver& solver_;
  const belief::Ground& ground_;
  const Model& model_;
  belief::Case& given_;
  const double least_;
};

}  // namespace

std::vector<Result> results_of(belief::Solver& solver, const belief::Ground& ground,
                               const Model& model, belief::Case& given, const belief::Belief& now,
                               std::size_t finding, const std::vector<Place>& places,
                               std::size_t epoch, double least) {
  std::vector<std::vector<Answer>> answers;
  for (const Place place : places) {
    answers.push_back(answers_of(model, *model.find_finding(finding, place), epoch));
  }
  Follower follower(solver, ground, model, given, least);
  follower.follow(places, answers, {{}, {}, 1, now.log_evidence, now.present_now});
  std::stable_sort(follower.results.begin(), follower.results.end(),
                   [](const Result& a, const Result& b) { return a.probability > b.probability; });
  return std::move(follower.results);
}

}  // namespace tickover::plan
