#include "engine/plan/course.hpp"

#include <algorithm>

namespace tickover::plan {
namespace {

/// A step that is this unlikely to be part of a cure is not worth the arithmetic.
constexpr double kLeastWeight = 2e-3;
/// A course longer than this has lost any trade with handing on.
constexpr std::size_t kMostSteps = 40;
/// After this many steps in a row that made no cheaper course, none is expected.
constexpr std::size_t kPatience = 8;

/// Builds a course step by step and keeps the cheapest beginning of it.
class Planner {
 public:
  Planner(const Workshop& workshop, const belief::Case& given,
          const std::vector<std::size_t>& complaint, const OpenLayers& open, double log_evidence)
      : workshop_(workshop),
        prospects_(given, complaint, log_evidence),
        used_(workshop.steps().size(), false),
        kept_(given.network.causes.size(), 1.0),
        open_(open) {
    mark_seen(given);
  }

  Course run() {
    culprits_ = prospects_.culprits();
    cured_ = prospects_.cured(removals_);
    best_ = {{}, workshop_.access().minutes(open_, {}).close + workshop_.hand_on_minutes(), 0};
    if (cured_ > 0) consider_stopping_here();
    for (std::size_t step = 0; step < kMostSteps && patience_ < kPatience; ++step) {
      const std::optional<std::size_t> next = best_step();
      if (!next) break;
      if (verify_first(workshop_.steps()[*next])) close_batch();
      add(*next);
      consider_stopping_here();
    }
    return std::move(best_);
  }

 private:
  const pack::Pack& pack() const { return workshop_.model().pack; }

  /// What was looked at as it is now will not look otherwise a second time.
  void mark_seen(const belief::Case& given) {
    seen_.assign(given.network.causes.size(), false);
    std::vector<belief::Epoch> since(given.network.causes.size(), 0);
    for (const belief::Removal& removal : given.removals) {
      since[removal.cause] = std::max(since[removal.cause], removal.epoch);
    }
    for (const belief::CauseObservation& one : given.seen) {
      if (one.epoch >= since[one.cause]) seen_[one.cause] = true;
    }
  }

  /// P(a cause of the step must go, is still there, and goes).
  double weight(const CourseStep& step) const {
    double sum = 0;
    for (const belief::Removal& one : step.removals) {
      sum += one.success * culprits_[one.cause] * kept_[one.cause];
    }
    return sum;
  }

  double close_and_verify(const OpenLayers& open) const {
    return workshop_.access().minutes(open, {}).close + workshop_.verify_minutes();
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

  /// Minutes of a step from `open` without closing, and the state it leaves. What is done once for
  /// the job is not paid twice in a batch (`in_batch`). After a look the repair is paid as often as
  /// it is expected to be needed.
  double minutes_of(const CourseStep& step, const OpenLayers& open, bool in_batch,
                    OpenLayers& then) const {
    const Access& access = workshop_.access();
    const pack::Work& work = pack().repairs[step.repair].minutes;
    if (!step.look) {
      then = access.after(open, step.need);
      return access.minutes(open, then).total() + work.each +
             (in_batch && repaired_in_batch(step.repair) ? 0 : work.once);
    }
    const pack::Work& looking = pack().checks[step.look->check].minutes;
    then = access.after(open, step.look->need);
    const OpenLayers for_repair = access.after(then, step.need);
    const std::size_t cause = step.removals.front().cause;
    const double found = culprits_[cause] * kept_[cause] * step.look->sensitivity;
    const double repairing = work.once + work.each + 2 * access.minutes(then, for_repair).total();
    return access.minutes(open, then).total() + looking.each +
           (in_batch && looked_in_batch(step.look->check) ? 0 : looking.once) + found * repairing;
  }

  double extra_minutes(const CourseStep& step) const {
    OpenLayers then;
    const double doing = minutes_of(step, open_, true, then);
    return doing + close_and_verify(then) - (batch_.steps.empty() ? 0 : close_and_verify(open_));
  }

  bool useful(std::size_t index) const {
    const CourseStep& step = workshop_.steps()[index];
    if (used_[index] || weight(step) < kLeastWeight) return false;
    return !step.look || !seen_[step.removals.front().cause];
  }

  std::optional<std::size_t> best_step() const {
    std::optional<std::size_t> best;
    double best_ratio = 0;
    for (std::size_t i = 0; i < workshop_.steps().size(); ++i) {
      if (!useful(i)) continue;
      const CourseStep& step = workshop_.steps()[i];
      const double ratio = weight(step) / std::max(extra_minutes(step), 1e-9);
      if (best && ratio <= best_ratio) continue;
      best = i;
      best_ratio = ratio;
    }
    return best;
  }

  /// P(not cured when the current batch begins).
  double reach() const { return 1 - cured_before_; }
  /// P(cured by the current batch | it is reached).
  double cured_in_batch() const { return reach() > 0 ? (cured_ - cured_before_) / reach() : 1; }

  /// Would closing up and running the engine before this step cost less than after it?
  bool verify_first(const CourseStep& step) const {
    if (!(cured_ > cured_before_)) return false;  // nothing to prove
    OpenLayers from_closed, from_here;
    const double later = minutes_of(step, {}, false, from_closed) + close_and_verify(from_closed);
    const double now = minutes_of(step, open_, true, from_here);
    return close_and_verify(open_) + (1 - cured_in_batch()) * later <
           now + close_and_verify(from_here);
  }

  void add(std::size_t index) {
    const CourseStep& step = workshop_.steps()[index];
    OpenLayers then;
    batch_.minutes += minutes_of(step, open_, true, then);
    open_ = then;
    used_[index] = true;
    batch_.steps.push_back(step);
    for (const belief::Removal& one : step.removals) {
      removals_.push_back(one);
      kept_[one.cause] *= 1 - one.success;
      if (step.look) seen_[one.cause] = true;
    }
    cured_ = prospects_.cured(removals_);
  }

  Batch closed_batch() const {
    Batch batch = batch_;
    batch.minutes += close_and_verify(open_);
    batch.cured_after = cured_;
    return batch;
  }

  /// The course so far, closed and verified, then handed on if need be: kept when it is the
  /// cheapest.
  void consider_stopping_here() {
    ++patience_;
    Batch last = closed_batch();
    const double expected =
        spent_ + reach() * last.minutes + (1 - cured_) * workshop_.hand_on_minutes();
    if (expected >= best_.expected_minutes) return;
    patience_ = 0;
    best_.batches = batches_;
    best_.batches.push_back(std::move(last));
    best_.expected_minutes = expected;
    best_.cured = cured_;
  }

  void close_batch() {
    batches_.push_back(closed_batch());
    spent_ += reach() * batches_.back().minutes;
    batch_ = {};
    open_ = {};
    cured_before_ = cured_;
  }

  const Workshop& workshop_;
  belief::Prospects prospects_;
  std::vector<bool> used_, seen_;
  std::vector<double> kept_;  ///< per cause: P(it is still there | it was)
  OpenLayers open_;
  std::vector<belief::Removal> removals_;
  std::vector<double> culprits_;
  double cured_ = 0, cured_before_ = 0, spent_ = 0;
  std::size_t patience_ = 0;
  Batch batch_;
  std::vector<Batch> batches_;
  Course best_;
};

}  // namespace

Course plan_course(const Workshop& workshop, const belief::Case& given,
                   const std::vector<std::size_t>& complaint, const OpenLayers& open,
                   double log_evidence) {
  return Planner(workshop, given, complaint, open, log_evidence).run();
}

}  // namespace tickover::plan
