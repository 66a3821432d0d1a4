#include "engine/plan/shop.hpp"

#include <algorithm>

namespace tickover::plan {

std::optional<double> Shop::price_of(const std::string& part) const {
  if (!prices) return std::nullopt;
  const std::pair<std::string, double>* best = nullptr;
  for (const auto& price : prices->parts) {
    const bool longer = best == nullptr || price.first.size() > best->first.size();
    if (longer && any_named({part}, {price.first})) best = &price;
  }
  return best == nullptr ? std::nullopt : std::optional(best->second);
}

double Shop::parts_of(const pack::Repair& repair) const {
  double minutes = 0;
  bool all_priced = true;
  for (const std::string& part : repair.parts) {
    const std::optional<double> price = price_of(part);
    if (price) minutes += *price / prices->minute;
    all_priced = all_priced && price;
  }
  return all_priced ? minutes : std::max(minutes, repair.parts_minutes);
}

double Shop::consumables_of(const pack::Check& check) const {
  if (!prices) return 0;
  for (const auto& [id, money] : prices->consumables) {
    if (id == check.id) return money / prices->minute;
  }
  return 0;
}

double Shop::hand_on_minutes(double of_pack) const {
  return prices && prices->hand_on ? *prices->hand_on / prices->minute : of_pack;
}

double Shop::comeback_minutes(const pack::Frame& frame) const {
  return prices ? frame.verify_misses.value * prices->comeback / prices->minute : 0;
}

}  // namespace tickover::plan
