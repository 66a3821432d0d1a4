/// @file
/// A course while it is made. Inside course.cpp only.
#pragma once

#include <algorithm>
#include <deque>
#include <limits>
#include <numeric>
#include <optional>

#include "engine/plan/candidate.hpp"
#include "engine/plan/contents.hpp"
#include "engine/plan/course.hpp"
#include "engine/plan/gathered.hpp"
#include "engine/plan/start.hpp"
#include "engine/plan/step_weights.hpp"
#include "engine/plan/tidy.hpp"

namespace tickover::plan {

/// Builds a course, keeps its cheapest beginning.
class Draft {
 public:
  Draft(const Workshop& workshop, const Situation& situation, const Start& start)
      : workshop_(workshop),
        cures_(situation.cures),
        situation_(situation),
        start_(start),
        tries_(situation.done),
        kept_(situation.cures.present().size(), 1.0),
        contents_(workshop),
        open_(situation.open),
        cured_(start.cured) {
    cures_.start();
    const AccessMinutes closing = workshop_.access().minutes(open_, {});
    best_.expected_hand_on = workshop_.hand_on_minutes();
    best_.expected_minutes = closing.close + best_.expected_hand_on;
    account(total_minutes(workshop_, gathered_, open_), closing.close);  // due in any case
    if (situation_.unverified && cured_ > 0) consider_stopping_here();
  }

  Course greedy() {
    know_culprits();
    find_candidates();
    while (Candidate* next = best_step_of_any_batch()) {
      if (verify_first(step_of(*next))) close_batch();
      add_with_siblings(*next);
      consider_stopping_here();
      if (cannot_pay() || ++in_vain_ > kPatience) break;
    }
    return best_course();
  }

  /// A course made from another belief, priced from this one, as far as it can still be gone; its
  /// first batch in any case where that is so `bound`.
  Course follow(const Course& known, bool bound = false) {
    if (bound) best_.expected_minutes = std::numeric_limits<double>::infinity();
    for (const Batch& batch : known.batches) {
      for (const CourseStep* each : in_order(steps_of(batch), open_)) {
        const CourseStep& step = *each;
        if (contents_.repairs(step) || (!bound && start_.found_sound(step))) continue;
        if (!start_.looked(step)) {
          add(step);
          continue;
        }
        if (!weights_) know_culprits();
        CourseStep repair = without_look(step);
        if (pays(ratio(repair, weights_->of(repair)))) add(made_.emplace_back(std::move(repair)));
      }
      if (batch_.steps.empty() && !verifies_alone(batch)) continue;
      cured_ = cures_.cured();
      consider_stopping_here();
      close_batch();
    }
    return best_course();
  }

 private:
  /// Steps of a batch, which the workshop or `made_` holds.
  struct Drafted {
    std::vector<const CourseStep*> steps = {};
    double minutes = 0, parts = 0, cured_after = 0;  ///< as of Batch
  };

  /// A batch that was so from the beginning; one whose looks were all answered has nothing to
  /// prove.
  bool verifies_alone(const Batch& batch) const {
    return batch.steps.empty() && situation_.unverified && batches_.empty();
  }

  /// Only where it is asked for what a step buys.
  void know_culprits() {
    std::vector<double> blamed = start_.culprits();
    for (std::size_t c = 0; c < blamed.size(); ++c) blamed[c] *= kept_[c];
    weights_.emplace(workshop_, std::move(blamed), tries_);
  }

  const CourseStep& step_of(const Candidate& one) const { return workshop_.steps()[one.step]; }

  void find_candidates() {
    for (std::size_t s = 0; s < workshop_.steps().size(); ++s) {
      const double weight = (*weights_)[s];
      const CourseStep& step = workshop_.steps()[s];
      if (weight < kLeastWeight || start_.looked(step) || start_.found_sound(step)) continue;
      const double least = std::max(least_minutes(step), kLeastMinutes);
      candidates_.push_back({s, contents_.kind(step), least, weight / least});
    }
    by_promise_.resize(candidates_.size());
    std::iota(by_promise_.begin(), by_promise_.end(), std::size_t{0});
    std::stable_sort(by_promise_.begin(), by_promise_.end(), [&](std::size_t a, std::size_t b) {
      return candidates_[a].at_most > candidates_[b].at_most;
    });
  }

  /// Nobody does a repair twice in one go, looks for what is repaired anyway, or looks first and
  /// repairs in any case: not before it is proven that what was done was not all.
  bool waits(const CourseStep& step) const {
    return contents_.repairs(step) || (!step.look && contents_.looks(step));
  }

  /// At most P(a look speaks for its cause | the batch is reached, which has probability `reach`).
  double alarm(const CourseStep& step, double reach) const {
    const std::size_t cause = step.removals.front().cause;
    const double there = situation_.cures.present()[cause] * kept_[cause];
    const double present = there < reach ? there / reach : 1;
    return present * step.look->sensitivity + (1 - present) * step.look->false_alarm;
  }

  /// Work and parts of a step, opening and closing left out; the repair after a look as often as it
  /// may be called for.
  Expense expense(const CourseStep& step, const OpenLayers& still, bool in_batch) const {
    const bool again = in_batch && contents_.has_alike(step);
    const Charge its = charge(workshop_, step, still, again);
    if (!step.look) return its.sure;
    const double found = alarm(step, in_batch ? reach() : 1 - cured_);
    return {its.sure.work + found * its.found.work, its.sure.parts + found * its.found.parts};
  }

  /// `gathered` with one more step.
  Gathered with(Gathered gathered, const CourseStep& step, bool in_batch) const {
    gather(gathered, step);
    const Expense more = expense(step, gathered.still, in_batch);
    gathered.work += more.work;
    gathered.parts += more.parts;
    return gathered;
  }

  /// What one more step adds to the batch.
  double extra_minutes(const CourseStep& step) const {
    if (step.look && !step.look->need.shut.empty()) {
      return total_minutes(workshop_, with(gathered_, step, true), open_) - base_minutes_;
    }
    const OpenLayers& need = step.look ? step.look->need.open : step.need.open;
    const OpenLayers still = step.look ? gathered_.still | need : gathered_.still;
    const Expense more = expense(step, still, true);
    return unpaid_ + more.work + more.parts + workshop_.access().there_and_back(widest_, need);
  }

  /// How much of a cure a step of that weight buys per minute.
  double ratio(const CourseStep& step, double weight) const {
    return weight / std::max(extra_minutes(step), kLeastMinutes);
  }

  /// What it can save of the hand-on price is more than what it takes at the end of a course, when
  /// all that can be mended is: judged step by step against P(not cured yet), steps that pay only
  /// together would never begin.
  bool pays(double ratio) const { return ratio * workshop_.hand_on_minutes() > start_.least_left; }

  /// In a batch of its own where all that is left would be done twice in one go.
  Candidate* best_step_of_any_batch() {
    Candidate* best = best_step();
    if (best != nullptr || batch_.steps.empty()) return best;
    const bool held_back =
        std::any_of(candidates_.begin(), candidates_.end(),
                    [&](const auto& one) { return !one.used && waits(step_of(one)); });
    if (!held_back) return nullptr;
    close_batch();
    return best_step();
  }

  /// The first of those with the best ratio. Weights only fall, so once the promise is less than
  /// the best found, nothing better follows.
  Candidate* best_step() {
    std::erase_if(by_promise_, [&](std::size_t i) { return candidates_[i].used; });
    Candidate* best = nullptr;
    double best_ratio = 0;
    for (const std::size_t i : by_promise_) {
      Candidate& one = candidates_[i];
      if (one.at_most < best_ratio || !pays(one.at_most)) break;
      const double weight = (*weights_)[one.step];
      one.used = weight < kLeastWeight;  // for good: weights only fall
      if (one.used || weight < best_ratio * (unpaid_ + one.least)) continue;
      if (waits(step_of(one))) continue;
      const double its_ratio = ratio(step_of(one), weight);
      if (!pays(its_ratio) || its_ratio < best_ratio) continue;
      if (its_ratio == best_ratio && best && best < &one) continue;
      best = &one;
      best_ratio = its_ratio;
    }
    return best;
  }

  /// The step, and the same at every other place where it pays too: nobody does one cylinder at a
  /// time.
  void add_with_siblings(Candidate& first) {
    take(first);
    for (Candidate& other : candidates_) {
      if (other.used || other.kind != first.kind || waits(step_of(other))) continue;
      const double weight = (*weights_)[other.step];
      if (weight >= kLeastWeight && pays(ratio(step_of(other), weight))) take(other);
    }
    cured_ = cures_.cured();
  }

  /// P(not cured when the current batch begins).
  double reach() const { return 1 - cured_before_; }
  /// P(cured by the current batch | it is reached).
  double cured_in_batch() const { return reach() > 0 ? (cured_ - cured_before_) / reach() : 1; }

  /// Would closing up and running the engine before this step cost less than after it?
  bool verify_first(const CourseStep& step) const {
    const bool done = situation_.unverified || !batches_.empty() || !batch_.steps.empty();
    if (!done || !(cured_ > cured_before_)) return false;  // nothing to prove
    const double later =
        total_minutes(workshop_, with({}, step, false), {}) + workshop_.comeback_minutes();
    return minutes_ + (1 - cured_in_batch()) * later <
           total_minutes(workshop_, with(gathered_, step, true), open_);
  }

  void take(Candidate& one) {
    one.used = true;
    add(step_of(one));
  }

  /// `step` must stay.
  void add(const CourseStep& step) {
    gathered_ = with(gathered_, step, true);
    batch_.steps.push_back(&step);
    contents_.add(step);
    for (const belief::Removal& each : step.removals) {
      const belief::Removal one = tries_.make(step.look.has_value(), each);
      cures_.remove(one);
      kept_[one.cause] *= 1 - one.success;
      if (weights_) weights_->remove(one);
    }
    const double minutes = total_minutes(workshop_, gathered_, open_);
    account(minutes, minutes);
  }

  /// The batch as it stands takes `minutes`; of them so many are accounted for.
  void account(double minutes, double accounted_for) {
    minutes_ = minutes;
    base_minutes_ = accounted_for;
    unpaid_ = minutes - accounted_for;
    widest_ = open_first(workshop_, gathered_, open_) | gathered_.still;
  }

  /// The course so far, closed and verified, then handed on if need be: kept when it is the
  /// cheapest.
  void consider_stopping_here() {
    price_batch();
    const double parts = spent_on_parts_ + reach() * batch_.parts;
    const double handing_on = (1 - cured_) * workshop_.hand_on_minutes();
    const double comebacks = spent_on_comebacks_ + (1 - cured_) * workshop_.comeback_minutes();
    const double expected = spent_ + reach() * batch_.minutes + parts + handing_on + comebacks;
    if (expected >= best_.expected_minutes) return;
    best_.batches = {{{}, batch_.minutes, batch_.parts, batch_.cured_after}};
    best_.expected_minutes = expected;
    best_.expected_parts = parts;
    best_.expected_hand_on = handing_on;
    best_.expected_comebacks = comebacks;
    best_.cured = cured_;
    best_closed_ = batches_.size();
    best_steps_ = batch_.steps.size();
    in_vain_ = 0;
  }

  /// The batch as if it ended here.
  void price_batch() {
    batch_.parts = gathered_.parts;
    batch_.minutes = minutes_ - gathered_.parts;
    batch_.cured_after = cured_;
  }

  /// The batches and steps up to where it was best to stop.
  Course best_course() {
    if (best_.batches.empty()) return std::move(best_);
    batches_.push_back(std::move(batch_));
    for (std::size_t b = 0; b < best_closed_; ++b) {
      const Drafted& from = batches_[b];
      best_.batches.insert(best_.batches.end() - 1, {copied(from, from.steps.size(), open_at(b)),
                                                     from.minutes, from.parts, from.cured_after});
    }
    best_.batches.back().steps = copied(batches_[best_closed_], best_steps_, open_at(best_closed_));
    return std::move(best_);
  }

  OpenLayers open_at(std::size_t batch) const {
    return batch == 0 ? situation_.open : OpenLayers{};
  }

  /// What is almost certainly the matter and lies open is put right at once.
  std::vector<const CourseStep*> in_order(std::vector<const CourseStep*> steps,
                                          const OpenLayers& open) const {
    return in_working_order(workshop_.access(), std::move(steps), [&](const CourseStep& step) {
      return (step.need.open - open).empty() && start_.certain(step);
    });
  }

  std::vector<CourseStep> copied(const Drafted& batch, std::size_t count,
                                 const OpenLayers& open) const {
    const auto end = batch.steps.begin() + static_cast<std::ptrdiff_t>(count);
    std::vector<CourseStep> steps;
    for (const CourseStep* one : in_order({batch.steps.begin(), end}, open)) steps.push_back(*one);
    return steps;
  }

  /// Whatever more is done, what is planned already and what cannot be mended cost more than the
  /// best course found.
  bool cannot_pay() const {
    return spent_ + spent_on_parts_ + spent_on_comebacks_ + reach() * base_minutes_ +
               start_.least_left * workshop_.hand_on_minutes() >=
           best_.expected_minutes;
  }

  void close_batch() {
    price_batch();
    spent_ += reach() * batch_.minutes;
    spent_on_parts_ += reach() * batch_.parts;
    spent_on_comebacks_ += (1 - cured_) * workshop_.comeback_minutes();
    batches_.push_back(std::move(batch_));
    batch_ = {};
    contents_.begin_next();
    gathered_ = {};
    open_ = {};
    cured_before_ = cured_;
    account(total_minutes(workshop_, gathered_, open_), 0);
  }

  /// A step that is this unlikely to be part of a cure is not worth the arithmetic.
  static constexpr double kLeastWeight = 2e-3;
  static constexpr double kLeastMinutes = 1e-9;

  const Workshop& workshop_;
  Cures& cures_;
  const Situation& situation_;
  const Start& start_;
  std::vector<Candidate> candidates_;    ///< in the order of Workshop::steps
  std::vector<std::size_t> by_promise_;  ///< of candidates, most first
  Tries tries_;                          ///< before the course, and by it
  std::vector<double> kept_;             ///< per cause: P(it is still there | it was)
  std::optional<StepWeights> weights_;   ///< once culprits are known
  Contents contents_;                    ///< of the current batch
  OpenLayers open_;
  double cured_, cured_before_ = 0, spent_ = 0, spent_on_parts_ = 0, spent_on_comebacks_ = 0;
  Drafted batch_;
  Gathered gathered_;
  double minutes_ = 0, base_minutes_ = 0;  ///< of the batch so far; those accounted for
  double unpaid_ = 0;  ///< what its first step brings besides: closing, verification
  OpenLayers widest_;  ///< what the batch so far opens
  int in_vain_ = 0;    ///< kinds of steps since the best course so far
  std::vector<Drafted> batches_;
  std::deque<CourseStep> made_;
  Course best_;                  ///< its last batch without steps, its other batches left out
  std::size_t best_closed_ = 0;  ///< batches before its last
  std::size_t best_steps_ = 0;   ///< steps of its last
};

}  // namespace tickover::plan
