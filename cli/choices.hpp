/// @file
/// What `next` tells around its first proposal: go on checking or not, and what else is worth doing
/// while the machine stands as it does.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "engine/diagnosis.hpp"
#include "engine/plan/choices.hpp"

namespace tickover::cli {

using Json = nlohmann::ordered_json;

/// Minutes, or the money they cost where the shop has prices.
std::string price_in_words(const plan::Shop& shop, double minutes);
/// " and parts for 34 EUR", "" without prices.
std::string parts_in_words(const plan::Shop& shop, double parts);
/// What a course costs on average; where the shop has prices, with its parts.
std::string bill_in_words(const plan::Shop& shop, const plan::Course& course);
/// What the parts of a course cost apiece, and which have no price; "" without prices or parts.
std::string part_prices_in_words(const Diagnosis& job, const plan::Shop& shop,
                                 const plan::Course& course);

/// Checking, repairing at once, handing on: minutes of each, and what would most probably be left.
std::string stop_rule_in_words(const Diagnosis& job, const plan::Shop& shop,
                               const plan::Advice& advice);
/// The checks worth doing before refitting or before stripping; "" for none.
std::string worthwhile_in_words(const Diagnosis& job, const plan::Shop& shop,
                                const plan::Advice& advice);
/// What fits when nothing does: the shortest proposal that is too long.
std::string nothing_fits_in_words(const Diagnosis& job, const plan::Advice& advice, double minutes);

/// The members "choice", "money", "before-refit", "before-strip" of the JSON report.
void add_choices_json(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice,
                      Json& out);

}  // namespace tickover::cli
