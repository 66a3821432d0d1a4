#include "engine/plan/orders.hpp"

#include <algorithm>

namespace tickover::plan {
namespace {

void add_repairs(const std::vector<CourseStep>& steps, std::vector<std::size_t>& repairs) {
  for (const CourseStep& step : steps) {
    if (std::find(repairs.begin(), repairs.end(), step.repair) == repairs.end()) {
      repairs.push_back(step.repair);
    }
  }
}

std::vector<std::size_t> planned_repairs(const Advice& advice) {
  std::vector<std::size_t> repairs;
  for (const Batch& batch : advice.course_now.batches) add_repairs(batch.steps, repairs);
  if (advice.proposals.empty()) return repairs;
  for (const Forecast& forecast : advice.proposals.front().forecasts) {
    if (forecast.course.batches.empty()) continue;
    add_repairs(first_steps(forecast.course.batches.front()), repairs);
  }
  return repairs;
}

/// The likeliest cause that the repair removes.
void find_cause(const Model& model, const belief::Belief& belief, Order& order) {
  const std::vector<pack::Removal>& removes = model.pack.repairs[order.repair].removes;
  for (std::size_t c = 0; c < model.causes.size(); ++c) {
    const bool removed = std::any_of(removes.begin(), removes.end(), [&](const auto& one) {
      return one.cause == model.causes[c].cause;
    });
    if (!removed || belief.present_now[c] <= order.probability) continue;
    order.cause = c;
    order.probability = belief.present_now[c];
  }
}

}  // namespace

std::vector<Order> orders(const Workshop& workshop, const Advice& advice) {
  const Model& model = workshop.model();
  std::vector<Order> all;
  for (const std::size_t repair : planned_repairs(advice)) {
    Order order{repair, workshop.shop().constraints.to_order(model.pack.repairs[repair])};
    if (order.parts.empty()) continue;
    find_cause(model, advice.belief, order);
    all.push_back(std::move(order));
  }
  std::stable_sort(all.begin(), all.end(), [](const Order& a, const Order& b) {
    return static_cast<float>(a.probability) > static_cast<float>(b.probability);
  });
  return all;
}

bool waits(const Advice& advice, const std::vector<Order>& ordered) {
  const Proposal& first = advice.proposals.front();
  if (first.kind != ActionKind::course || first.batch.steps.empty()) return false;
  const CourseStep& step = first.batch.steps.front();
  return !step.look && std::any_of(ordered.begin(), ordered.end(),
                                   [&](const Order& one) { return one.repair == step.repair; });
}

namespace {

/// It holds a repair, not after a look, of what the waiting ones are for: in their stead, not until
/// then.
bool stands_in(const Workshop& workshop, const Proposal& proposal,
               const std::vector<Order>& ordered) {
  const auto mends = [&](const CourseStep& step, const Order& one) {
    const std::size_t meant = workshop.model().causes[one.cause].cause;
    const std::vector<pack::Removal>& does = workshop.model().pack.repairs[step.repair].removes;
    return !step.look && std::any_of(does.begin(), does.end(), [&](const pack::Removal& removal) {
      return removal.cause == meant;
    });
  };
  const std::vector<CourseStep>& steps = proposal.batch.steps;
  return std::any_of(steps.begin(), steps.end(), [&](const CourseStep& step) {
    return std::any_of(ordered.begin(), ordered.end(),
                       [&](const Order& one) { return mends(step, one); });
  });
}

/// It is worth its time against going on without any check.
bool pays(const Advice& advice, const Proposal& one) {
  const bool looks = one.kind == ActionKind::check || one.kind == ActionKind::ask;
  return !looks || one.expected_minutes < advice.course_now.expected_minutes;
}

}  // namespace

std::optional<Proposal> meanwhile(const Workshop& workshop, const belief::Ground& ground,
                                  const Evidence& evidence, const std::vector<Order>& ordered) {
  Shop shop = workshop.shop();
  for (const Order& one : ordered) {
    shop.constraints.without.push_back(workshop.model().pack.repairs[one.repair].id);
  }
  const Workshop without(workshop.model(), std::move(shop));
  const Advice advice = advise(without, ground, evidence, 0);
  const auto first =
      std::find_if(advice.proposals.begin(), advice.proposals.end(),
                   [&](const Proposal& one) { return !stands_in(workshop, one, ordered); });
  if (first == advice.proposals.end() || !pays(advice, *first)) return std::nullopt;
  if (first->kind == ActionKind::verify || first->kind == ActionKind::hand_on) return std::nullopt;
  if (first->batch.steps.empty()) return *first;
  return first_step(without, evidence.open_layers, first->batch);
}

}  // namespace tickover::plan
