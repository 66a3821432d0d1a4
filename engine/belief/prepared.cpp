#include "engine/belief/prepared.hpp"

#include <algorithm>

namespace tickover::belief {
namespace {

bool widens(const Case& given, std::size_t finding) {
  const auto level_does = [&](const LevelObservation& seen) {
    return seen.finding == finding &&
           (seen.level > 0 || given.network->findings[finding].inhibited());
  };
  return std::any_of(given.levels.begin(), given.levels.end(), level_does) ||
         std::any_of(given.soft.begin(), given.soft.end(), [&](const SoftObservation& soft) {
           return std::count(soft.findings.begin(), soft.findings.end(), finding) > 0;
         });
}

/// Causes that are known for sure to have been present, or not to: they tie nothing together.
std::vector<bool> decided_causes(const Case& given) {
  std::vector<bool> decided(given.network->causes.size(), false);
  for (const CauseObservation& seen : given.seen) {
    if (!(seen.present > 0) || !(seen.absent > 0)) decided[seen.cause] = true;
  }
  return decided;
}

/// The finding that ties most causes together among those that need a bit, what is asked about
/// (`absent`) after all others; the last on a tie.
std::size_t widest_finding(const Case& given, const std::vector<std::size_t>* absent,
                           const std::vector<std::size_t>& set_aside) {
  std::size_t widest = 0;
  std::pair<bool, std::size_t> most;  // not asked about, links
  const std::vector<bool> decided = decided_causes(given);
  for (std::size_t f = 0; f < given.network->findings.size(); ++f) {
    if (std::binary_search(set_aside.begin(), set_aside.end(), f)) continue;
    if (!widens(given, f)) continue;
    const bool asked = absent != nullptr && std::count(absent->begin(), absent->end(), f) > 0;
    const auto& links = given.network->findings[f].links;
    const auto ties = std::count_if(links.begin(), links.end(),
                                    [&](const Link& link) { return !decided[link.cause]; });
    const std::pair its(!asked, static_cast<std::size_t>(ties) + 1);
    if (its >= most) {
      most = its;
      widest = f;
    }
  }
  return widest;
}

void put_aside(const Case& given, const std::vector<std::size_t>* absent,
               std::vector<std::size_t>& set_aside) {
  const std::size_t finding = widest_finding(given, absent, set_aside);
  set_aside.push_back(finding);
  for (const SoftObservation& soft : given.soft) {  // a sensor on two findings goes as a whole
    if (std::count(soft.findings.begin(), soft.findings.end(), finding) == 0) continue;
    set_aside.insert(set_aside.end(), soft.findings.begin(), soft.findings.end());
  }
  std::sort(set_aside.begin(), set_aside.end());
  set_aside.erase(std::unique(set_aside.begin(), set_aside.end()), set_aside.end());
}

/// Entries that one pass goes through.
std::size_t work_of(const Schedule& schedule) {
  std::size_t work = 0;
  for (const Step& step : schedule.steps) work += step.size;
  return work;
}

}  // namespace

bool Prepared::narrow(std::size_t widest) const {
  return schedule_.width <= widest && work_of(schedule_) <= kMostWork;
}

void Prepared::pose(const Case& given, const std::vector<std::size_t>* absent, bool merge,
                    std::size_t widest) {
  set_aside_ = observed_too_often(given);
  while (true) {
    compiler_.compile(given, absent, set_aside_, problem_);
    put_in_order(merge, widest);
    if (narrow(widest)) break;
    // without one finding it may be narrower by a bit: half of those surely needed at once
    const std::size_t over = schedule_.width > widest ? schedule_.width - widest : 0;
    for (std::size_t i = 0; i < std::max<std::size_t>(over / 2, 1); ++i) {
      put_aside(given, absent, set_aside_);
    }
  }
  sweep_.set(problem_, schedule_);
}

std::size_t Prepared::width(const Case& given) {
  set_aside_ = observed_too_often(given);
  compiler_.compile(given, nullptr, set_aside_, problem_);
  scheduler_.take(problem_);
  merged_ = true;
  order_ = scheduler_.find_order();
  scheduler_.lay_out(*order_, schedule_, merged_);
  return width_found_ = schedule_.width;
}

/// An order known already will do as long as it is hardly wider than where it was found; and
/// a problem that differs in numbers alone has its schedule.
void Prepared::put_in_order(bool merge, std::size_t widest) {
  constexpr std::size_t kWider = 2;
  const bool same = scheduler_.take(problem_) && order_ && merge == merged_;
  if (same) return;
  merged_ = merge;
  if (order_) {
    scheduler_.lay_out(scheduler_.extend(*order_), schedule_, merge);
    if (schedule_.width <= std::min(width_found_ + kWider, widest)) return;
  }
  order_ = scheduler_.find_order();
  scheduler_.lay_out(*order_, schedule_, merge);
  if (schedule_.width <= widest) search_order(merge);
  width_found_ = schedule_.width;
}

/// Tries other orders for about as long as one sweep takes: nothing where that is short.
void Prepared::search_order(bool merge) {
  constexpr std::size_t kWorkOfAttempt = 1u << 16, kMostAttempts = 24;
  std::size_t work = work_of(schedule_);
  const std::size_t attempts = std::min(work / kWorkOfAttempt, kMostAttempts);
  for (std::uint32_t attempt = 1; attempt <= attempts; ++attempt) {
    Order order = scheduler_.find_order(attempt);
    scheduler_.lay_out(order, other_, merge);
    if (work_of(other_) >= work) continue;
    work = work_of(other_);
    order_ = std::move(order);
    std::swap(schedule_, other_);
  }
}

}  // namespace tickover::belief
