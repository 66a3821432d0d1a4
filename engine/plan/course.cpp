#include "engine/plan/course.hpp"

#include <algorithm>

namespace tickover::plan {
namespace {

/// A step that is this unlikely to be part of a cure is not worth the arithmetic.
constexpr double kLeastWeight = 2e-3;
constexpr double kLeastMinutes = 1e-9;

/// What the steps of a batch need together, whatever their order.
struct Gathered {
  double work = 0;           ///< minutes without opening and closing
  double parts = 0;          ///< expected parts and consumables, as minutes
  bool any_running = false;  ///< some look needs the engine running
  OpenLayers running;        ///< open for the running looks
  OpenLayers still;          ///< open for everything else
};

/// A step that may be worth taking.
struct Candidate {
  const CourseStep* step = nullptr;
  double weight = 0;
  double least_minutes = 0;
  bool used = false;
};

/// Builds a course step by step and keeps the cheapest beginning of it.
class Draft {
 public:
  Draft(const Workshop& workshop, const Situation& situation)
      : workshop_(workshop),
        cures_(situation.cures),
        situation_(situation),
        kept_(situation.cures.present().size(), 1.0),
        open_(situation.open),
        culprits_(situation.cures.culprits()),
        least_left_(1 - situation.cures.all_gone()) {
    for (const CourseStep& step : workshop.steps()) {
      const double its_weight = weight(step);
      if (its_weight < kLeastWeight || (step.look && looked(*step.look))) continue;
      candidates_.push_back({&step, its_weight, least_minutes(step)});
    }
  }

  /// The greedy course, or `known` as far as it can still be gone when that is cheaper.
  Course run(const Course* known) {
    begin();
    const std::optional<Draft> other = known ? std::optional<Draft>(*this) : std::nullopt;
    while (Candidate* next = best_step()) {
      if (verify_first(*next->step)) close_batch();
      add_with_siblings(*next);
      consider_stopping_here();
      if (cannot_pay() || ++in_vain_ > situation_.patience) break;
    }
    if (known) {
      Course along = Draft(*other).follow(*known);
      if (along.expected_minutes < best_.expected_minutes) return along;
    }
    return best_course();
  }

 private:
  void begin() {
    cures_.start();
    cured_ = cures_.cured();
    const AccessMinutes closing = workshop_.access().minutes(open_, {});
    best_.expected_hand_on = workshop_.hand_on_minutes();
    best_.expected_minutes = closing.close + best_.expected_hand_on;
    base_minutes_ = closing.close;  // due in any case
    if (situation_.unverified && cured_ > 0) consider_stopping_here();
  }

  /// A course made from another belief, priced from this one.
  Course follow(const Course& known) {
    cures_.start();
    for (const Batch& batch : known.batches) {
      for (const CourseStep& step : batch.steps) {
        if (!step.look || !looked(*step.look)) {
          add(step);
        } else if (const CourseStep repair = without_look(step); pays(ratio(repair))) {
          add(repair);
        }
      }
      cured_ = cures_.cured();
      consider_stopping_here();
      close_batch();
    }
    return best_course();
  }

  bool looked(const Look& look) const {
    const std::vector<std::size_t>& known = situation_.looked;
    return std::find(known.begin(), known.end(), look.instance) != known.end();
  }

  static CourseStep without_look(CourseStep step) {
    for (belief::Removal& one : step.removals) one.success /= step.look->sensitivity;
    step.look.reset();
    return step;
  }

  /// P(a cause of the step must go, is still there, and goes).
  double weight(const CourseStep& step) const {
    double sum = 0;
    for (const belief::Removal& one : step.removals) {
      sum += one.success * culprits_[one.cause] * kept_[one.cause];
    }
    return sum;
  }

  bool repaired_in_batch(std::size_t repair) const {
    return std::any_of(batch_.steps.begin(), batch_.steps.end(),
                       [&](const CourseStep& held) { return held.repair == repair && !held.look; });
  }

  bool looked_in_batch(std::size_t check) const {
    return std::any_of(batch_.steps.begin(), batch_.steps.end(), [&](const CourseStep& held) {
      return held.look && held.look->check == check;
    });
  }

  /// At most P(a look speaks for its cause | the batch is reached, which has probability `reach`).
  double alarm(const CourseStep& step, double reach) const {
    const std::size_t cause = step.removals.front().cause;
    const double there = situation_.cures.present()[cause] * kept_[cause];
    const double present = there < reach ? there / reach : 1;
    return present * step.look->sensitivity + (1 - present) * step.look->false_alarm;
  }

  /// `gathered` with one more step. What is done once for the job is not paid twice in a batch
  /// (`in_batch`). After a look the repair is paid as often as it may be called for.
  Gathered with(Gathered gathered, const CourseStep& step, bool in_batch) const {
    const pack::Work& work = step.repairing;
    const double parts = step.parts;
    if (!step.look) {
      gathered.parts += parts;
      gathered.still = gathered.still | step.need.open;
      gathered.work += work.each + (in_batch && repaired_in_batch(step.repair) ? 0 : work.once);
      return gathered;
    }
    const pack::Work& looking = step.looking;
    gathered.work +=
        looking.each + (in_batch && looked_in_batch(step.look->check) ? 0 : looking.once);
    gathered.any_running = gathered.any_running || step.look->need.running;
    OpenLayers& need = step.look->need.running ? gathered.running : gathered.still;
    need = need | step.look->need.open;
    const double found = alarm(step, in_batch ? reach() : 1 - cured_);
    const AccessMinutes there =
        workshop_.access().minutes(gathered.still, gathered.still | step.need.open);
    const AccessMinutes back =
        workshop_.access().minutes(gathered.still | step.need.open, gathered.still);
    gathered.parts += step.consumables + found * parts;
    gathered.work += found * (work.once + work.each + there.open + back.close);
    return gathered;
  }

  /// Price of a whole batch in minutes, parts included, from `start`: running looks first, then
  /// everything is opened that must be, then closed and verified.
  double total_minutes(const Gathered& gathered, const OpenLayers& start) const {
    const Access& access = workshop_.access();
    const OpenLayers running =
        gathered.any_running ? access.after(start, {gathered.running, true}) : start;
    const OpenLayers widest = running | gathered.still;
    return gathered.work + gathered.parts + access.minutes(start, running).total() +
           access.minutes(running, widest).total() + access.minutes(widest, {}).close +
           workshop_.verify_minutes();
  }

  double extra_minutes(const CourseStep& step) const {
    return total_minutes(with(gathered_, step, true), open_) - base_minutes_;
  }

  /// What a step takes whatever else is in its batch.
  static double least_minutes(const CourseStep& step) {
    return step.look ? step.looking.each + step.consumables : step.repairing.each + step.parts;
  }

  /// How much of a cure a step buys per minute.
  double ratio(const CourseStep& step) const {
    return weight(step) / std::max(extra_minutes(step), kLeastMinutes);
  }

  /// What it can save of the hand-on price is more than what it takes at the end of a course, when
  /// all that can be mended is: judged step by step against P(not cured yet), steps that pay only
  /// together would never begin.
  bool pays(double ratio) const { return ratio * workshop_.hand_on_minutes() > least_left_; }

  /// The first of those with the best ratio. What even the least minutes would not bring there is
  /// not worked out.
  Candidate* best_step() {
    Candidate* best = nullptr;
    double best_ratio = 0;
    for (Candidate& one : candidates_) {
      if (one.used || one.weight < kLeastWeight) continue;
      const double at_most = one.weight / std::max(one.least_minutes, kLeastMinutes);
      if (at_most <= best_ratio || !pays(at_most)) continue;
      const double its_ratio = ratio(*one.step);
      if (!pays(its_ratio) || its_ratio <= best_ratio) continue;
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
      if (other.used || !alike(*other.step, *first.step)) continue;
      if (weight(*other.step) >= kLeastWeight && pays(ratio(*other.step))) take(other);
    }
    cured_ = cures_.cured();
    for (Candidate& one : candidates_) {
      if (!one.used) one.weight = weight(*one.step);
    }
  }

  /// P(not cured when the current batch begins).
  double reach() const { return 1 - cured_before_; }
  /// P(cured by the current batch | it is reached).
  double cured_in_batch() const { return reach() > 0 ? (cured_ - cured_before_) / reach() : 1; }

  /// Would closing up and running the engine before this step cost less than after it?
  bool verify_first(const CourseStep& step) const {
    const bool done = situation_.unverified || !batches_.empty() || !batch_.steps.empty();
    if (!done || !(cured_ > cured_before_)) return false;  // nothing to prove
    const double later = total_minutes(with({}, step, false), {});
    return total_minutes(gathered_, open_) + (1 - cured_in_batch()) * later <
           total_minutes(with(gathered_, step, true), open_);
  }

  void take(Candidate& one) {
    one.used = true;
    add(*one.step);
  }

  void add(const CourseStep& step) {
    gathered_ = with(gathered_, step, true);
    batch_.steps.push_back(step);
    for (const belief::Removal& one : step.removals) {
      cures_.remove(one);
      kept_[one.cause] *= 1 - one.success;
    }
    base_minutes_ = total_minutes(gathered_, open_);
  }

  /// The batch as it would end here, its steps left out.
  Batch closed_batch() const {
    Batch batch;
    batch.parts = gathered_.parts;
    batch.minutes = total_minutes(gathered_, open_) - gathered_.parts;
    batch.cured_after = cured_;
    return batch;
  }

  /// The course so far, closed and verified, then handed on if need be: kept when it is the
  /// cheapest.
  void consider_stopping_here() {
    const Batch last = closed_batch();
    const double parts = spent_on_parts_ + reach() * last.parts;
    const double handing_on = (1 - cured_) * workshop_.hand_on_minutes();
    const double expected = spent_ + reach() * last.minutes + parts + handing_on;
    if (expected >= best_.expected_minutes) return;
    best_.batches = {last};
    best_.expected_minutes = expected;
    best_.expected_parts = parts;
    best_.expected_hand_on = handing_on;
    best_.cured = cured_;
    best_closed_ = batches_.size();
    best_steps_ = batch_.steps.size();
    in_vain_ = 0;
  }

  /// The batches and steps up to where it was best to stop.
  Course best_course() {
    if (best_.batches.empty()) return std::move(best_);
    Batch last = std::move(best_.batches.front());
    std::vector<CourseStep>& steps =
        best_closed_ < batches_.size() ? batches_[best_closed_].steps : batch_.steps;
    last.steps = std::move(steps);
    last.steps.resize(best_steps_);
    batches_.resize(best_closed_);
    batches_.push_back(std::move(last));
    best_.batches = std::move(batches_);
    return std::move(best_);
  }

  /// Whatever more is done, what is planned already and what cannot be mended cost more than the
  /// best course found.
  bool cannot_pay() const {
    return spent_ + spent_on_parts_ + reach() * base_minutes_ +
               least_left_ * workshop_.hand_on_minutes() >=
           best_.expected_minutes;
  }

  void close_batch() {
    batches_.push_back(closed_batch());
    batches_.back().steps = std::move(batch_.steps);
    spent_ += reach() * batches_.back().minutes;
    spent_on_parts_ += reach() * batches_.back().parts;
    batch_ = {};
    gathered_ = {};
    open_ = {};
    cured_before_ = cured_;
    base_minutes_ = 0;
  }

  const Workshop& workshop_;
  Cures& cures_;
  const Situation& situation_;
  std::vector<Candidate> candidates_;  ///< in the order of Workshop::steps
  std::vector<double> kept_;           ///< per cause: P(it is still there | it was)
  OpenLayers open_;
  const std::vector<double> culprits_;
  const double least_left_;  ///< P(not cured) even with every listed cause removed
  double cured_ = 0, cured_before_ = 0, spent_ = 0, spent_on_parts_ = 0;
  Batch batch_;
  Gathered gathered_;
  double base_minutes_ = 0;  ///< of the batch so far
  int in_vain_ = 0;          ///< kinds of steps since the best course so far
  std::vector<Batch> batches_;
  Course best_;                  ///< its last batch without steps, its other batches left out
  std::size_t best_closed_ = 0;  ///< batches before its last
  std::size_t best_steps_ = 0;   ///< steps of its last
};

}  // namespace

Course plan_course(const Workshop& workshop, const Situation& situation, const Course* known) {
  return Draft(workshop, situation).run(known);
}

Course plan_course(const Workshop& workshop, const belief::Case& given,
                   const std::vector<std::size_t>& complaint, const OpenLayers& open) {
  const belief::Belief belief = belief::infer(given);
  ExactCures cures(complaint);
  cures.pose(given, belief.log_evidence, belief.present_now);
  return plan_course(workshop, {cures, {}, open, true});
}

}  // namespace tickover::plan
