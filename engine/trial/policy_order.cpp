#include <algorithm>

#include "engine/trial/moves.hpp"
#include "engine/trial/policy.hpp"

namespace tickover::trial {
namespace {

std::vector<Place> repaired_places(const Model& model, std::size_t repair) {
  std::vector<Place> places;
  for (const pack::Removal& removal : model.pack.repairs[repair].removes) {
    const pack::Scope scope = model.pack.causes[removal.cause].scope;
    if (scope != pack::Scope::engine) return model.places(scope);
  }
  return places;
}

/// `places` of what was looked at in the scope of what the repair removes.
std::vector<Place> in_scope_of(const Model& model, std::size_t repair,
                               const std::vector<Place>& places) {
  const std::vector<Place> all = repaired_places(model, repair);
  if (all.empty()) return all;
  std::vector<Place> found;
  for (const Place place : places) {
    if (place.scope == pack::Scope::engine) return all;
    const Place there = model.place_at(all.front().scope, model.cylinders_of(place).front());
    if (std::find(found.begin(), found.end(), there) == found.end()) found.push_back(there);
  }
  return found;
}

/// Line by line: look, repair where the look speaks for it, prove it. Lines for parts that the
/// machine does not have are passed over; after the last the job is handed on.
class PrintedOrderPolicy : public Policy {
 public:
  explicit PrintedOrderPolicy(const Settings& settings) : steps_(settings.order.steps) {}

  void act(Simulation& job) override {
    if (next_ == steps_.size()) return job.hand_on();
    const OrderStep& step = steps_[next_++];
    const Model& model = job.model();
    if (!model.applies(model.pack.repairs[step.repair].needs)) return;
    std::vector<Place> speaking;
    bool looked = false;
    for (const std::size_t check : step.checks) {
      const std::vector<Place> places = job.places_left(model.pack.checks[check].finding);
      if (!offered(job.workshop(), check) || places.empty()) continue;
      looked = true;
      speaking = job.check(check, places);
      if (!speaking.empty()) break;
    }
    if (looked && speaking.empty()) return;
    if (!looked && !step.checks.empty()) return;  // what it looks at is not there
    job.repair(step.repair, looked ? in_scope_of(model, step.repair, speaking)
                                   : repaired_places(model, step.repair));
    job.verify();
  }

 private:
  const std::vector<OrderStep>& steps_;
  std::size_t next_ = 0;
};

/// Everything open, every part looked at and measured; what looks bad is repaired. Then on by p/c.
class StripFirstPolicy : public Policy {
 public:
  explicit StripFirstPolicy(const Settings&) {}

  void act(Simulation& job) override {
    if (stripped_) return pursue_course(job);
    stripped_ = true;
    plan::Batch bad;
    for (const std::size_t check : order(job)) look(job, check, bad);
    if (!bad.steps.empty()) carry_out(job, bad);
  }

 private:
  /// Outer parts first.
  static std::vector<std::size_t> order(const Simulation& job) {
    const Model& model = job.model();
    std::vector<std::size_t> checks;
    for (std::size_t c = 0; c < model.pack.checks.size(); ++c) {
      const pack::Kind kind = model.pack.findings[model.pack.checks[c].finding].kind;
      const bool at_a_part = kind == pack::Kind::inspection || kind == pack::Kind::reading;
      if (at_a_part && !model.pack.checks[c].running && offered(job.workshop(), c))
        checks.push_back(c);
    }
    const auto depth = [&](std::size_t check) {
      return job.workshop().access().need_of(model.pack.checks[check]).open.size();
    };
    std::stable_sort(checks.begin(), checks.end(),
                     [&](std::size_t a, std::size_t b) { return depth(a) < depth(b); });
    return checks;
  }

  static void look(Simulation& job, std::size_t check, plan::Batch& bad) {
    const std::size_t finding = job.model().pack.checks[check].finding;
    const std::vector<Place> places = job.places_left(finding);
    if (places.empty()) return;
    for (const Place place : job.check(check, places)) {
      const auto cause = job.model().findings[*job.model().find_finding(finding, place)].cause;
      const plan::CourseStep* step = cause ? repair_step(job.workshop(), *cause) : nullptr;
      if (step != nullptr) bad.steps.push_back(*step);
    }
  }

  bool stripped_ = false;
};

}  // namespace

std::unique_ptr<Policy> printed_order_policy(const Settings& settings) {
  return std::make_unique<PrintedOrderPolicy>(settings);
}
std::unique_ptr<Policy> strip_first_policy(const Settings& settings) {
  return std::make_unique<StripFirstPolicy>(settings);
}

}  // namespace tickover::trial
