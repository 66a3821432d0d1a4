/// @file
/// Parts that are not in stock: what to order, and what can be done until they are here.
#pragma once

#include "cli/report.hpp"
#include "engine/diagnosis.hpp"

namespace tickover::cli {

/// Missing parts of the repairs that are planned: for which, and how likely it is needed. Then,
/// where the next thing to do waits for one, the best that does not. Empty where nothing is
/// missing.
std::string orders_in_words(const Diagnosis& job, const plan::Shop& shop,
                            const plan::Advice& advice);

Json orders_json(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice);

}  // namespace tickover::cli
