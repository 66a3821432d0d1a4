#include "engine/plan/exact_prices.hpp"

#include <algorithm>
#include <cmath>

#include "engine/plan/exchange.hpp"

namespace tickover::plan {

void ExactPrices::price(Proposal& proposal) {
  const double missing = 1 - foreseen(proposal.forecasts);
  for (Forecast& forecast : proposal.forecasts) {
    after(ground_, given_, forecast.observations,
          [&] { price_result(forecast, proposal.open_after); });
  }
  for (Forecast& forecast : proposal.forecasts) learn_from_alike(forecast, proposal);
  share_what_is_left(proposal.forecasts, missing);
  double expected = 0;
  for (const Forecast& forecast : proposal.forecasts) {
    expected += forecast.probability * forecast.expected_minutes;
  }
  proposal.unforeseen = std::max(1 - foreseen(proposal.forecasts), 0.0);
  proposal.expected_minutes = proposal.minutes() + proposal.consumables + expected +
                              proposal.unforeseen * leaves_.nothing_learnt(proposal.open_after) +
                              mischosen(proposal) - proposal.farther;
}

/// Of the result that the case holds.
void ExactPrices::price_result(Forecast& forecast, const OpenLayers& open) {
  const belief::Belief then = solver_.infer(given_);
  forecast.present.clear();
  if (!base_.exact || !then.exact) return;  // P(e) is not comparable: the scenarios' word stands
  forecast.probability = then.contradiction ? 0 : std::exp(then.log_evidence - base_.log_evidence);
  if (then.contradiction) return;
  std::vector<std::size_t> looked;
  for (const Observation& seen : forecast.observations) {
    if (model_.findings[seen.finding].cause) looked.push_back(seen.finding);
  }
  forecast.course = leaves_.after(then, looked, open, forecast.course);
  forecast.expected_minutes = forecast.course.expected_minutes;
  forecast.present = then.present_now;
}

/// What was planned for the same result at another place, which scenarios may have hit better.
void ExactPrices::learn_from_alike(Forecast& forecast, const Proposal& proposal) {
  const Forecast* better = nullptr;
  std::optional<Exchange> exchange;
  for (const Forecast& other : proposal.forecasts) {
    if (other.present.empty() || forecast.present.empty()) continue;
    const double than = better ? better->expected_minutes : forecast.expected_minutes;
    if (!(other.expected_minutes < than - kByMore)) continue;
    const auto its = Exchange::between(leaves_.workshop(), forecast, other);
    if (!its) continue;
    better = &other;
    exchange.emplace(*its);
  }
  if (!better) return;
  const std::optional<Course> course = exchange->moved(better->course);
  if (!course) return;
  Forecast moved = forecast;
  moved.course = *course;
  after(ground_, given_, forecast.observations, [&] { price_result(moved, proposal.open_after); });
  if (moved.expected_minutes < forecast.expected_minutes - kByMore) forecast = std::move(moved);
}

/// Being elsewhere is worth nothing in itself: what a course seems to gain by it, nothing learnt,
/// is the greedy course's own fault and is not put to the check's credit.
double ExactPrices::mischosen(const Proposal& proposal) {
  const double there = proposal.access.total() + leaves_.nothing_learnt(proposal.open_after);
  return std::max(leaves_.now().expected_minutes - there, 0.0);
}

}  // namespace tickover::plan
