#include "engine/belief/prepared.hpp"

#include <algorithm>

#include "engine/belief/infer.hpp"

namespace tickover::belief {
namespace {

bool inhibited(const Finding& finding) {
  return !finding.leak_inhibitors.empty() ||
         std::any_of(finding.links.begin(), finding.links.end(),
                     [](const Link& link) { return !link.inhibitors.empty(); });
}

/// In bits of one word that they may take.
std::size_t observations_that_widen(const Case& given, std::size_t finding) {
  constexpr std::size_t kBitsOfInhibited = 4;
  const bool hides = inhibited(given.network.findings[finding]);
  std::size_t count = 0;
  for (const LevelObservation& seen : given.levels) {
    if (seen.finding != finding) continue;
    count += hides ? kBitsOfInhibited : seen.level > 0;
  }
  for (const SoftObservation& soft : given.soft) {
    count += std::count(soft.findings.begin(), soft.findings.end(), finding) > 0;
  }
  return count;
}

/// The finding that ties most causes together among those that need a bit; the last on a tie.
std::size_t widest_finding(const Case& given, const std::vector<std::size_t>& set_aside) {
  std::size_t widest = 0, most = 0;
  for (std::size_t f = 0; f < given.network.findings.size(); ++f) {
    if (std::binary_search(set_aside.begin(), set_aside.end(), f)) continue;
    if (observations_that_widen(given, f) == 0) continue;
    const std::size_t links = given.network.findings[f].links.size() + 1;
    if (links >= most) {
      most = links;
      widest = f;
    }
  }
  return widest;
}

/// Observations of one finding have their bits in one word.
constexpr std::size_t kMostBits = 60;

void put_aside(const Case& given, std::vector<std::size_t>& set_aside) {
  const std::size_t finding = widest_finding(given, set_aside);
  set_aside.push_back(finding);
  for (const SoftObservation& soft : given.soft) {  // a sensor on two findings goes as a whole
    if (std::count(soft.findings.begin(), soft.findings.end(), finding) == 0) continue;
    set_aside.insert(set_aside.end(), soft.findings.begin(), soft.findings.end());
  }
  std::sort(set_aside.begin(), set_aside.end());
  set_aside.erase(std::unique(set_aside.begin(), set_aside.end()), set_aside.end());
}

}  // namespace

void Prepared::pose(const Case& given, const std::vector<std::size_t>* absent, bool merge) {
  set_aside_.clear();
  for (std::size_t f = 0; f < given.network.findings.size(); ++f) {
    if (observations_that_widen(given, f) > kMostBits) set_aside_.push_back(f);
  }
  while (true) {
    compiler_.compile(given, absent, set_aside_, problem_);
    put_in_order(merge);
    if (schedule_.width <= kWidest) break;
    put_aside(given, set_aside_);
  }
  sweep_.set(problem_, schedule_);
}

/// An order known already will do as long as it is hardly wider than where it was found.
void Prepared::put_in_order(bool merge) {
  constexpr std::size_t kWider = 2;
  scheduler_.take(problem_);
  if (order_) {
    scheduler_.lay_out(scheduler_.extend(*order_), schedule_, merge);
    if (schedule_.width <= std::min(width_found_ + kWider, kWidest)) return;
  }
  order_ = scheduler_.find_order();
  scheduler_.lay_out(*order_, schedule_, merge);
  width_found_ = schedule_.width;
}

std::pair<double, double> bounds_of_observations(const Case& given, std::size_t finding) {
  double low = 1, high = 1;
  const Finding& f = given.network.findings[finding];
  for (const LevelObservation& seen : given.levels) {
    if (seen.finding != finding) continue;
    double at_least = seen.level == 0 ? 1 : f.leak[seen.level - 1];
    if (seen.level == 0) {
      for (const double l : f.leak) at_least -= l;
    }
    for (const Link& link : f.links) {  // no cause may show more than was seen
      for (std::size_t level = seen.level; level < link.strength.size(); ++level) {
        at_least *= 1 - link.strength[level];
      }
    }
    if (seen.level > 0 && !f.leak_inhibitors.empty()) at_least = 0;
    low = std::max(low + at_least - 1, 0.0);  // whatever depends on what (Frechet)
  }
  for (const SoftObservation& soft : given.soft) {
    if (std::count(soft.findings.begin(), soft.findings.end(), finding) == 0) continue;
    if (soft.findings.front() != finding) continue;  // a sensor on two findings counts once
    low *= *std::min_element(soft.likelihood.begin(), soft.likelihood.end());
    high *= *std::max_element(soft.likelihood.begin(), soft.likelihood.end());
  }
  return {low, high};
}

}  // namespace tickover::belief
