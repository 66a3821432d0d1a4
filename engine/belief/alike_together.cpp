#include "engine/belief/alike_together.hpp"

#include <algorithm>
#include <tuple>

namespace tickover::belief {
namespace {

auto said_by(const Scenario& one) { return std::tie(one.present, one.must_go, one.curable); }

}  // namespace

std::vector<Scenario> alike_together(std::vector<Scenario> drawn) {
  std::erase_if(drawn, [](const Scenario& one) { return !(one.share > 0); });
  double total = 0;
  for (Scenario& one : drawn) {
    std::sort(one.present.begin(), one.present.end());
    std::sort(one.must_go.begin(), one.must_go.end());
    one.draws = one.share * one.share;  // the sum of squares, for now
    total += one.share;
  }
  std::sort(drawn.begin(), drawn.end(),
            [](const Scenario& a, const Scenario& b) { return said_by(a) < said_by(b); });
  std::vector<Scenario> scenarios;
  for (Scenario& one : drawn) {
    if (scenarios.empty() || said_by(scenarios.back()) != said_by(one)) {
      scenarios.push_back(std::move(one));
      continue;
    }
    scenarios.back().share += one.share;
    scenarios.back().draws += one.draws;
  }
  for (Scenario& one : scenarios) {
    one.draws = one.share * one.share / one.draws;
    one.share /= total;
  }
  return scenarios;
}

}  // namespace tickover::belief
