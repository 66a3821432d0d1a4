#include "cli/ordering.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/print.hpp"
#include "engine/foundation/text.hpp"
#include "engine/plan/orders.hpp"

namespace tickover::cli {

std::string orders_in_words(const Diagnosis& job, const plan::Shop& shop,
                            const plan::Advice& advice) {
  const Model& model = job.model();
  const plan::Workshop there(model, shop);
  const std::vector<plan::Order> ordered = plan::orders(there, advice);
  if (ordered.empty()) return {};
  std::string out = "\nNot in stock: to order, likeliest to be needed first\n";
  for (const plan::Order& one : ordered) {
    out += labelled("  - ",
                    fmt::format("{}, for: {}. It mends {} ({}).", join_words(one.parts),
                                model.pack.repairs[one.repair].name,
                                model.describe_cause(one.cause), odds_in_words(one.probability)),
                    4);
  }
  if (!plan::waits(advice, ordered)) return out;
  const auto until_then = plan::meanwhile(there, job.ground(), job.evidence(), ordered);
  if (!until_then) return out + wrapped("Nothing else is worth its time until then.", 0);
  return out + wrapped(fmt::format("Until then: {}, {}.", headline(model, *until_then),
                                   minutes_in_words(until_then->minutes())),
                       0);
}

Json orders_json(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice) {
  Json list = Json::array();
  for (const plan::Order& one : plan::orders(plan::Workshop(job.model(), shop), advice)) {
    list.push_back({{"repair", job.model().pack.repairs[one.repair].id},
                    {"parts", one.parts},
                    {"cause", job.model().causes[one.cause].id},
                    {"probability", steady(one.probability)}});
  }
  return list;
}

}  // namespace tickover::cli
