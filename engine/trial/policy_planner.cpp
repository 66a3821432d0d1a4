#include "engine/plan/advise.hpp"
#include "engine/plan/carried.hpp"
#include "engine/trial/moves.hpp"
#include "engine/trial/policy.hpp"

namespace tickover::trial {
namespace {

void perform(Simulation& job, const plan::Proposal& first) {
  switch (first.kind) {
    case plan::ActionKind::ask:
      return job.ask(first.index, first.places);
    case plan::ActionKind::check:
      job.check(first.index, first.places);
      return;
    case plan::ActionKind::course:
    case plan::ActionKind::verify:
      return carry_out(job, first.batch);
    case plan::ActionKind::hand_on:
      return job.hand_on();
  }
}

/// Does what `next` would put first.
class PlannerPolicy : public Policy {
 public:
  explicit PlannerPolicy(plan::Effort effort) : effort_(std::move(effort)) {}

  void act(Simulation& job) override {
    const plan::Advice advice =
        plan::advise(job.workshop(), job.ground(), job.evidence(), 0, effort_);
    if (advice.proposals.empty()) return job.hand_on(true);
    perform(job, advice.proposals.front());
  }

 private:
  const plan::Effort effort_;
};

/// The same by one step, over scenarios alone.
class OneStepPolicy : public Policy {
 public:
  void act(Simulation& job) override {
    if (!carried_) carried_.emplace(job.workshop(), job.ground(), job.evidence());
    const std::optional<plan::Proposal> first = carried_->first();
    if (!first) return job.hand_on(true);
    perform(job, *first);
  }

 private:
  std::optional<plan::Carried> carried_;
};

class RatioPolicy : public Policy {
 public:
  void act(Simulation& job) override { pursue_course(job); }
};

class MostProbablePolicy : public Policy {
 public:
  void act(Simulation& job) override { pursue_most_probable(job); }
};

}  // namespace

std::unique_ptr<Policy> planner_policy(const Settings&) {
  return std::make_unique<PlannerPolicy>(plan::Effort{.all_open = false});
}
std::unique_ptr<Policy> one_step_policy(const Settings&) {
  return std::make_unique<OneStepPolicy>();
}
std::unique_ptr<Policy> one_step_exact_policy(const Settings&) {
  return std::make_unique<PlannerPolicy>(plan::Effort{.points = 0, .all_open = false});
}
std::unique_ptr<Policy> ratio_policy(const Settings&) { return std::make_unique<RatioPolicy>(); }
std::unique_ptr<Policy> most_probable_policy(const Settings&) {
  return std::make_unique<MostProbablePolicy>();
}

}  // namespace tickover::trial
