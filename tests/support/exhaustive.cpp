#include "tests/support/exhaustive.hpp"

#include <algorithm>

#include "engine/belief/enumerate.hpp"

namespace tickover::test {
namespace {

StepSet bit(std::size_t step) { return StepSet{1} << step; }

bool same_step(const plan::CourseStep& a, const plan::CourseStep& b) {
  return a.repair == b.repair && a.place == b.place && a.look.has_value() == b.look.has_value() &&
         a.removals.front().cause == b.removals.front().cause;
}

}  // namespace

CourseReference::CourseReference(const plan::Workshop& workshop, const belief::Case& given,
                                 const std::vector<std::size_t>& complaint, const OpenLayers& open)
    : workshop_(workshop), given_(given), complaint_(complaint), open_(open) {}

CourseReference::StateKey CourseReference::key(const State& state) {
  std::vector<std::size_t> open;
  for (const std::size_t layer : state.open) open.push_back(layer);
  return {state.begun, state.done, open, state.verified};
}

std::vector<belief::Removal> CourseReference::removals(StepSet steps, belief::Epoch epoch) const {
  std::vector<belief::Removal> all;
  for (std::size_t i = 0; i < workshop_.steps().size(); ++i) {
    if ((steps & bit(i)) == 0) continue;
    for (belief::Removal one : workshop_.steps()[i].removals) {
      one.epoch = epoch;
      all.push_back(one);
    }
  }
  return all;
}

double CourseReference::cured(StepSet done) {
  const auto known = cured_.find(done);
  if (known != cured_.end()) return known->second;
  const auto p = static_cast<double>(
      belief::enumerate_cured(given_, complaint_, removals(done, given_.now + 1)));
  return cured_[done] = p;
}

/// P(the cause is present now); with `gone_before`, P(that, and the complaint was gone when the
/// batch began). The steps of the batch take effect one epoch after those before it.
double CourseReference::present_after(const State& state, std::size_t cause, bool gone_before) {
  const auto key = std::make_tuple(state.begun, state.done, cause, gone_before);
  const auto known = present_.find(key);
  if (known != present_.end()) return known->second;
  belief::Case then = given_;
  then.now = given_.now + 2;
  for (const auto& one : removals(state.begun, given_.now + 1)) then.removals.push_back(one);
  for (const auto& one : removals(state.done & ~state.begun, then.now)) {
    then.removals.push_back(one);
  }
  if (gone_before) {
    for (const std::size_t one : complaint_) then.levels.push_back({one, given_.now + 1, 0, 0});
  }
  const auto present = static_cast<double>(belief::enumerate(then).present_now[cause]);
  return present_[key] = present * (gone_before ? cured(state.begun) : 1);
}

double CourseReference::reached_with(const State& state, std::size_t cause, bool present) {
  double p = present_after(state, cause, false);
  if (state.verified && cured(state.begun) > 0) p -= present_after(state, cause, true);
  return present ? p : reach(state) - p;
}

/// True when what is done once for the job was done in this batch: taking the same thing in hand.
bool CourseReference::repeats(const State& state, const plan::CourseStep& step) const {
  for (std::size_t i = 0; i < workshop_.steps().size(); ++i) {
    if (((state.done & ~state.begun) & bit(i)) == 0) continue;
    const plan::CourseStep& held = workshop_.steps()[i];
    if (held.look.has_value() != step.look.has_value()) continue;
    if (step.look ? held.look->check == step.look->check : held.repair == step.repair) return true;
  }
  return false;
}

/// After a look that answers "faulty": the repair, its access there and back.
double CourseReference::spend_look(const State& state, const plan::CourseStep& step,
                                   const OpenLayers& then) {
  const Access& access = workshop_.access();
  const pack::Pack& pack = workshop_.model().pack;
  const std::size_t cause = step.removals.front().cause;
  double alarm = 0;
  for (const pack::Outcome& outcome :
       pack.findings[pack.checks[step.look->check].finding].outcomes) {
    if (outcome.present.value <= outcome.absent.value) continue;
    alarm += outcome.present.value * reached_with(state, cause, true) +
             outcome.absent.value * reached_with(state, cause, false);
  }
  const pack::Work& work = pack.repairs[step.repair].minutes;
  const OpenLayers for_repair = access.after(then, step.need);
  return alarm * (work.once + work.each + access.minutes(then, for_repair).total() +
                  access.minutes(for_repair, then).total());
}

double CourseReference::spend(State& state, std::size_t index) {
  const plan::CourseStep& step = workshop_.steps()[index];
  const pack::Pack& pack = workshop_.model().pack;
  const AccessNeed& need = step.look ? step.look->need : step.need;
  const pack::Work& work =
      step.look ? pack.checks[step.look->check].minutes : pack.repairs[step.repair].minutes;
  const OpenLayers then = workshop_.access().after(state.open, need);
  double spent = reach(state) * (workshop_.access().minutes(state.open, then).total() + work.each +
                                 (repeats(state, step) ? 0 : work.once));
  if (step.look) spent += spend_look(state, step, then);
  state.done |= bit(index);
  state.open = then;
  return spent;
}

double CourseReference::close(State& state) {
  const double spent = reach(state) * (workshop_.access().minutes(state.open, {}).close +
                                       workshop_.verify_minutes());
  state = {state.done, state.done, {}, true};
  return spent + reach(state) * workshop_.comeback_minutes();
}

double CourseReference::minutes(const std::vector<StepBatch>& batches) {
  State state{0, 0, open_, false};
  double total = 0;
  for (const StepBatch& batch : batches) {
    for (const std::size_t step : batch) total += spend(state, step);
    total += close(state);
  }
  const double closing = workshop_.access().minutes(state.open, {}).close;
  return total + reach(state) * (closing + workshop_.hand_on_minutes());
}

double CourseReference::best_from(const State& state) {
  const auto known = best_.find(key(state));
  if (known != best_.end()) return known->second;
  const bool between = state.begun == state.done;
  const double closing = workshop_.access().minutes(state.open, {}).close;
  double best = between ? reach(state) * (closing + workshop_.hand_on_minutes()) : 1e300;
  if (!between || (!state.verified && cured(0) > 0)) {
    State next = state;
    const double spent = close(next);
    best = std::min(best, spent + best_from(next));
  }
  for (std::size_t step = 0; step < workshop_.steps().size(); ++step) {
    if ((state.done & bit(step)) != 0) continue;
    State next = state;
    const double spent = spend(next, step);
    best = std::min(best, spent + best_from(next));
  }
  return best_[key(state)] = best;
}

double CourseReference::optimum() { return best_from({0, 0, open_, false}); }

std::vector<StepBatch> CourseReference::batches_of(const plan::Course& course) const {
  std::vector<StepBatch> batches;
  const std::vector<plan::CourseStep>& all = workshop_.steps();
  for (const plan::Batch& batch : course.batches) {
    batches.emplace_back();
    for (const plan::CourseStep& step : batch.steps) {
      const auto found = std::find_if(all.begin(), all.end(), [&](const plan::CourseStep& one) {
        return same_step(one, step);
      });
      batches.back().push_back(static_cast<std::size_t>(found - all.begin()));
    }
  }
  return batches;
}

}  // namespace tickover::test
