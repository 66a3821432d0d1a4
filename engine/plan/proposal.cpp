#include "engine/plan/proposal.hpp"

#include <algorithm>

namespace tickover::plan {

double foreseen(const std::vector<Forecast>& forecasts) {
  double sum = 0;
  for (const Forecast& one : forecasts) sum += one.probability;
  return sum;
}

void share_what_is_left(std::vector<Forecast>& forecasts, double missing) {
  double exact = 0, rough = std::max(missing, 0.0);
  for (const Forecast& one : forecasts) (one.present.empty() ? rough : exact) += one.probability;
  if (!(rough > 0)) return;
  for (Forecast& one : forecasts) {
    if (one.present.empty()) one.probability *= std::max(1 - exact, 0.0) / rough;
  }
}

std::vector<std::size_t> instances_of(const Model& model, const Proposal& proposal) {
  const std::size_t finding = proposal.kind == ActionKind::check
                                  ? model.pack.checks[proposal.index].finding
                                  : proposal.index;
  std::vector<std::size_t> instances;
  for (const Place place : proposal.places) {
    instances.push_back(*model.find_finding(finding, place));
  }
  return instances;
}

}  // namespace tickover::plan
