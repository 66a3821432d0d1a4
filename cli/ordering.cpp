#include "cli/ordering.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/print.hpp"
#include "engine/foundation/text.hpp"
#include "engine/plan/choices.hpp"

namespace tickover::cli {
namespace {

/// A repair that waits for parts, and the likeliest of the causes that it removes.
struct Order {
  std::size_t repair = 0;
  std::vector<std::string> parts;
  std::size_t cause = 0;
  double probability = 0;
};

void add_repairs(const std::vector<plan::CourseStep>& steps, std::vector<std::size_t>& repairs) {
  for (const plan::CourseStep& step : steps) {
    if (std::find(repairs.begin(), repairs.end(), step.repair) == repairs.end()) {
      repairs.push_back(step.repair);
    }
  }
}

/// Of the plan, and of what the results of the first check would lead to.
std::vector<std::size_t> planned_repairs(const plan::Advice& advice) {
  std::vector<std::size_t> repairs;
  for (const plan::Batch& batch : advice.course_now.batches) add_repairs(batch.steps, repairs);
  if (advice.proposals.empty()) return repairs;
  for (const plan::Forecast& forecast : advice.proposals.front().forecasts) {
    if (forecast.course.batches.empty()) continue;
    add_repairs(plan::first_steps(forecast.course.batches.front()), repairs);
  }
  return repairs;
}

std::vector<Order> orders(const Diagnosis& job, const plan::Shop& shop,
                          const plan::Advice& advice) {
  const Model& model = job.model();
  std::vector<Order> all;
  for (const std::size_t index : planned_repairs(advice)) {
    const pack::Repair& repair = model.pack.repairs[index];
    Order order{index, shop.constraints.to_order(repair)};
    if (order.parts.empty()) continue;
    for (std::size_t c = 0; c < model.causes.size(); ++c) {
      const bool removed =
          std::any_of(repair.removes.begin(), repair.removes.end(),
                      [&](const auto& one) { return one.cause == model.causes[c].cause; });
      if (!removed || advice.belief.present_now[c] <= order.probability) continue;
      order.cause = c;
      order.probability = advice.belief.present_now[c];
    }
    all.push_back(std::move(order));
  }
  std::stable_sort(all.begin(), all.end(), [](const Order& a, const Order& b) {
    return static_cast<float>(a.probability) > static_cast<float>(b.probability);
  });
  return all;
}

/// "pilot jet if it will not come clear": the repair can be begun without.
bool perhaps(const std::string& part) {
  return part.find(" if ") != std::string::npos || part.ends_with(" as needed");
}

/// What comes first is a repair that waits.
bool waits(const plan::Advice& advice, const std::vector<Order>& ordered) {
  const plan::Proposal& first = advice.proposals.front();
  if (first.kind != plan::ActionKind::course || first.batch.steps.empty()) return false;
  const plan::CourseStep step = plan::first_steps(first.batch).front();
  return !step.look && std::any_of(ordered.begin(), ordered.end(), [&](const Order& one) {
    return one.repair == step.repair && !std::all_of(one.parts.begin(), one.parts.end(), perhaps);
  });
}

std::string until_then(const Diagnosis& job, plan::Shop shop, const std::vector<Order>& ordered) {
  for (const Order& one : ordered) {
    shop.constraints.without.push_back(job.model().pack.repairs[one.repair].id);
  }
  const plan::Advice advice = job.advise(shop, 0);
  const auto useful =
      std::find_if(advice.proposals.begin(), advice.proposals.end(), [](const plan::Proposal& one) {
        return one.kind != plan::ActionKind::verify && one.kind != plan::ActionKind::hand_on;
      });
  const bool first = useful == advice.proposals.begin() && useful != advice.proposals.end();
  if (!first) return wrapped("Nothing else is worth its time until then.", 0);
  plan::Proposal then = *useful;
  if (!then.batch.steps.empty()) {
    then = plan::first_step(job.workshop(), job.evidence().open_layers, then.batch);
  }
  return wrapped(fmt::format("Until then: {}, {}.", headline(job.model(), then),
                             minutes_in_words(then.minutes())),
                 0);
}

}  // namespace

std::string orders_in_words(const Diagnosis& job, const plan::Shop& shop,
                            const plan::Advice& advice) {
  const std::vector<Order> ordered = orders(job, shop, advice);
  if (ordered.empty()) return {};
  std::string out = "\nNot in stock: to order, likeliest to be needed first\n";
  for (const Order& one : ordered) {
    out +=
        labelled("  - ",
                 fmt::format("{}, for: {}. It mends {} ({}).", join_words(one.parts),
                             job.model().pack.repairs[one.repair].name,
                             job.model().describe_cause(one.cause), odds_in_words(one.probability)),
                 4);
  }
  return waits(advice, ordered) ? out + until_then(job, shop, ordered) : out;
}

Json orders_json(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice) {
  Json list = Json::array();
  for (const Order& one : orders(job, shop, advice)) {
    list.push_back({{"repair", job.model().pack.repairs[one.repair].id},
                    {"parts", one.parts},
                    {"cause", job.model().causes[one.cause].id},
                    {"probability", steady(one.probability)}});
  }
  return list;
}

}  // namespace tickover::cli
