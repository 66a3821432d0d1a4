/// @file
/// The best course of looking and repairing on a model small enough to try them all, and what any
/// given course costs: by definition and enumeration, sharing no arithmetic with engine/plan.
#pragma once

#include <map>
#include <tuple>
#include <vector>

#include "engine/plan/course.hpp"
#include "tests/support/random_case.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::test {

/// A set of steps: bit i stands for Workshop::steps()[i].
using StepSet = unsigned;

/// Steps done in one go, by index into Workshop::steps(), then closing up and verifying.
using StepBatch = std::vector<std::size_t>;

/// Prices courses from one belief and state of access. A course is followed as written: its next
/// batch is done when the complaint is still there, after the last the job is handed on. A look is
/// followed by its repair whenever it answers "faulty", rightly or by false alarm.
class CourseReference {
 public:
  CourseReference(const plan::Workshop& workshop, const belief::Case& given,
                  const std::vector<std::size_t>& complaint, const OpenLayers& open);

  /// P(complaint gone once the steps are done).
  double cured(StepSet done);
  /// Expected minutes until verified or handed on. An empty batch closes up and verifies.
  double minutes(const std::vector<StepBatch>& batches);
  /// The least expected minutes of all courses over all steps. Meant for at most 8 steps.
  double optimum();

  /// The batches of an engine's course, by index.
  std::vector<StepBatch> batches_of(const plan::Course& course) const;

 private:
  /// Before the next step: what was done when the current batch began and is done now, what is
  /// open, and whether anything was verified yet.
  struct State {
    StepSet begun = 0, done = 0;
    OpenLayers open;
    bool verified = false;
  };
  using StateKey = std::tuple<StepSet, StepSet, std::vector<std::size_t>, bool>;
  static StateKey key(const State& state);

  std::vector<belief::Removal> removals(StepSet steps, belief::Epoch epoch) const;
  double reach(const State& state) { return state.verified ? 1 - cured(state.begun) : 1; }
  /// P(the current batch is reached, and the cause is present or absent now).
  double reached_with(const State& state, std::size_t cause, bool present);
  double present_after(const State& state, std::size_t cause, bool gone_before);
  bool repeats(const State& state, const plan::CourseStep& step) const;
  /// Minutes of the step times the probability of spending them; `state` moves on.
  double spend(State& state, std::size_t step);
  double spend_look(const State& state, const plan::CourseStep& step, const OpenLayers& then);
  /// The same for closing up and verifying.
  double close(State& state);
  double best_from(const State& state);

  const plan::Workshop& workshop_;
  const belief::Case given_;
  const std::vector<std::size_t> complaint_;
  const OpenLayers open_;
  std::map<StepSet, double> cured_;
  std::map<std::tuple<StepSet, StepSet, std::size_t, bool>, double> present_;
  std::map<StateKey, double> best_;
};

/// What a random small model may hold.
struct SmallShape {
  std::size_t causes = 5, repairs = 4, layers = 3, looks = 0;
};

/// A pack with up to that much of everything and one or two symptoms; "symptom-0" can be produced
/// by every cause. Access is a random forest.
SmallPack random_small_pack(Random& random, const SmallShape& shape);

}  // namespace tickover::test
