#include "engine/belief/bounds.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "engine/belief/factored.hpp"
#include "engine/belief/prepared.hpp"

namespace tickover::belief {
namespace {

using Side = PartBounds::Side;

bool less(const Scaled& a, const Scaled& b) {
  if (!(a.mantissa > 0) || !(b.mantissa > 0)) return b.mantissa > a.mantissa;
  const Scaled x = normal(a), y = normal(b);
  return x.exponent != y.exponent ? x.exponent < y.exponent : x.mantissa < y.mantissa;
}

Scaled exp_of(double log) {
  if (!std::isfinite(log)) return {};
  const double twos = std::floor(log / std::numbers::ln2);
  return {std::exp(log - twos * std::numbers::ln2), static_cast<int>(twos)};
}

/// What is observed of other findings, and what is known of the causes.
Case without(const Case& given, const std::vector<std::size_t>& set_aside) {
  const auto aside = [&](std::size_t f) {
    return std::binary_search(set_aside.begin(), set_aside.end(), f);
  };
  Case rest = given;
  std::erase_if(rest.levels, [&](const LevelObservation& seen) { return aside(seen.finding); });
  std::erase_if(rest.soft, [&](const SoftObservation& soft) {
    return std::any_of(soft.findings.begin(), soft.findings.end(), aside);
  });
  return rest;
}

/// The masses of a case that is narrow enough, times a constant.
Side sweep(Prepared& ready, const Case& given, std::size_t widest, const Scaled& constant) {
  ready.pose(given, nullptr, true, widest);
  Side side;
  side.all = ready.sweep().both_ways() * constant;
  const Problem& problem = ready.problem();
  for (std::size_t c = 0; c < problem.causes; ++c) {
    Scaled present, absent;
    for (std::uint32_t s = problem.variables[c].begin; s < problem.variables[c].end; ++s) {
      Scaled& sum = problem.states[s].life.in(given.now) ? present : absent;
      sum = sum + ready.sweep().mass(s);
    }
    side.present.push_back(present * constant);
    side.absent.push_back(absent * constant);
  }
  return side;
}

/// P(present) of each cause, from masses.
std::vector<double> rough(const Side& side) {
  std::vector<double> present;
  for (const Scaled& mass : side.present) present.push_back(std::min(ratio(mass, side.all), 1.0));
  return present;
}

void lower_to(Side& side, const Side& other) {
  const auto lower = [](Scaled& a, const Scaled& b) { a = less(b, a) ? b : a; };
  lower(side.all, other.all);
  for (std::size_t c = 0; c < side.present.size(); ++c) {
    lower(side.present[c], other.present[c]);
    lower(side.absent[c], other.absent[c]);
  }
}

/// P(a source of these strengths shows no more than `level`).
double no_more_than(std::size_t level, const std::vector<double>& strength) {
  double silent = 1;
  for (std::size_t l = level; l < strength.size(); ++l) silent -= strength[l];
  return std::max(silent, 0.0);
}

/// P(this level seen | any lives of the causes) is at least this: all might show more, unless they
/// are silent; for a level above 0 the first leak alone is sure to be there, unless it fades or may
/// be hidden.
double least_of_level(const Case& given, const LevelObservation& seen) {
  const Finding& f = given.network.findings[seen.finding];
  const double leak_no_more = no_more_than(seen.level, f.leak);
  double at_least = leak_no_more;
  if (seen.level > 0) at_least = f.leak_inhibitors.empty() ? f.leak[seen.level - 1] : 0;
  for (const Window& fading : given.fades) {
    if (fading.finding == seen.finding && seen.level > 0) at_least *= 1 - given.fade;
  }
  for (const Window& window : given.windows) {
    if (window.finding == seen.finding) at_least *= leak_no_more;
  }
  for (const Link& link : f.links) at_least *= no_more_than(seen.level, link.strength);
  return at_least;
}

/// P(all levels seen of `finding` | any lives of the causes) is at least this.
double least_of_levels(const Case& given, std::size_t finding) {
  double low = 1;
  for (const LevelObservation& seen : given.levels) {
    if (seen.finding != finding) continue;  // whatever depends on what (Frechet)
    low = std::max(low + least_of_level(given, seen) - 1, 0.0);
  }
  return low;
}

/// Natural logs of what the sensors that see a finding set aside may say, each at least and most.
std::pair<double, double> logs_of_sensors(const Case& given,
                                          const std::vector<std::size_t>& set_aside) {
  double low = 0, high = 0;
  for (const SoftObservation& soft : given.soft) {
    if (std::none_of(soft.findings.begin(), soft.findings.end(), [&](std::size_t f) {
          return std::binary_search(set_aside.begin(), set_aside.end(), f);
        })) {
      continue;
    }
    low += std::log(*std::min_element(soft.likelihood.begin(), soft.likelihood.end()));
    high += std::log(*std::max_element(soft.likelihood.begin(), soft.likelihood.end()));
  }
  return {low, high};
}

/// Findings set aside as factors from above and below; others among them by constants.
struct Sides {
  Case high, low;
  double log_high = 0, log_low = 0;
};

void multiply(const Factored& by, Case& given, double& log_constant) {
  log_constant += by.log_constant;
  given.seen.insert(given.seen.end(), by.factors.begin(), by.factors.end());
}

Sides factored(const Case& given, const std::vector<std::size_t>& set_aside,
               const std::vector<CauseObservation>& fixed, const std::vector<double>& present) {
  Sides sides;
  sides.high = sides.low = without(given, set_aside);
  std::tie(sides.log_low, sides.log_high) = logs_of_sensors(given, set_aside);
  for (const std::size_t finding : set_aside) {
    if (!PresentFinding::fits(given, finding)) {
      sides.log_low += std::log(least_of_levels(given, finding));
      continue;
    }
    const PresentFinding one(given, finding, fixed);
    multiply(one.above(present), sides.high, sides.log_high);
    multiply(one.below(present), sides.low, sides.log_low);
  }
  return sides;
}

/// The cause whose knowledge would say most about the findings set aside; or none.
void choose_split(const Case& given, const std::vector<std::size_t>& set_aside,
                  const std::vector<double>& present, PartBounds& part) {
  std::vector<double> promise(present.size(), 0);
  for (const std::size_t finding : set_aside) {
    if (!PresentFinding::fits(given, finding)) continue;
    const PresentFinding one(given, finding, part.fixed);
    for (const auto& [cause, z] : one.open()) {
      promise[cause] += std::min(z, 3.0) * present[cause] * (1 - present[cause]);
    }
  }
  for (const CauseObservation& known : part.fixed) promise[known.cause] = 0;
  const auto best = std::max_element(promise.begin(), promise.end());
  part.settled = best == promise.end() || !(*best > 0);
  if (!part.settled) part.split = static_cast<std::size_t>(best - promise.begin());
}

PartBounds bound(Prepared& ready, const Case& given, std::size_t widest,
                 std::vector<CauseObservation> fixed) {
  PartBounds part;
  part.fixed = std::move(fixed);
  Case whole = given;
  whole.seen.insert(whole.seen.end(), part.fixed.begin(), part.fixed.end());
  ready.pose(whole, nullptr, true, widest);
  const std::vector<std::size_t> set_aside = ready.set_aside();
  if (set_aside.empty()) {
    part.high = part.low = sweep(ready, whole, widest, {1, 0});
    part.settled = true;
    return part;
  }
  const double log_most = logs_of_sensors(whole, set_aside).second;  // levels are at most certain
  part.high = sweep(ready, without(whole, set_aside), widest, exp_of(log_most));
  std::vector<double> present = rough(part.high);
  for (const bool last : {false, true}) {  // the second time it is known better where to bound
    const Sides sides = factored(whole, set_aside, part.fixed, present);
    const Side high = sweep(ready, sides.high, widest, exp_of(sides.log_high));
    if (last) part.low = sweep(ready, sides.low, widest, exp_of(sides.log_low));
    lower_to(part.high, high);
    present = rough(high);
  }
  lower_to(part.low, part.high);  // rounding
  choose_split(whole, set_aside, present, part);
  return part;
}

/// Never beyond what was proven before.
void tighten(double& low, double& high, double new_low, double new_high) {
  constexpr double kRounding = 1e-12;
  low = std::max(low, std::min(new_low - kRounding * new_low, 1.0));
  high = std::max(std::min(high, new_high + kRounding * new_high), low);
}

}  // namespace

Bounding::Bounding(const Case& given, std::size_t widest)
    : given_(given),
      widest_(widest),
      ready_(std::make_unique<Prepared>()),
      low_(given.network.causes.size(), 0.0),
      high_(given.network.causes.size(), 1.0),
      log_low_(-std::numeric_limits<double>::infinity()),
      log_high_(std::numeric_limits<double>::infinity()) {
  add({});
  take_stock();
}

Bounding::~Bounding() = default;

void Bounding::add(std::vector<CauseObservation> fixed) {
  PartBounds part = bound(*ready_, given_, widest_, std::move(fixed));
  if (part.high.all.mantissa > 0) parts_.push_back(std::move(part));
}

bool Bounding::refine() {
  const auto gap = [](const PartBounds& part) {
    if (part.settled) return -std::numeric_limits<double>::infinity();
    const double share = ratio(part.low.all, part.high.all);
    return part.high.all.log() + std::log1p(-std::min(share, 1.0));
  };
  const auto widest =
      std::max_element(parts_.begin(), parts_.end(),
                       [&](const PartBounds& a, const PartBounds& b) { return gap(a) < gap(b); });
  if (widest == parts_.end() || !std::isfinite(gap(*widest))) return false;
  const PartBounds part = std::move(*widest);
  parts_.erase(widest);
  for (const bool present : {true, false}) {
    std::vector<CauseObservation> fixed = part.fixed;
    fixed.push_back({part.split, given_.now, present ? 1.0 : 0.0, present ? 0.0 : 1.0, 0});
    add(std::move(fixed));
  }
  take_stock();
  return true;
}

/// The parts add up.
void Bounding::take_stock() {
  Scaled low, high;
  for (const PartBounds& part : parts_) {
    low = low + part.low.all;
    high = high + part.high.all;
  }
  log_low_ = std::max(log_low_, low.log());
  log_high_ = std::min(log_high_, high.log());
  for (std::size_t c = 0; c < low_.size(); ++c) {
    Scaled least, most, least_absent, most_absent;
    for (const PartBounds& part : parts_) {
      least = least + part.low.present[c];
      most = most + part.high.present[c];
      least_absent = least_absent + part.low.absent[c];
      most_absent = most_absent + part.high.absent[c];
    }
    const double new_low = ratio(least, least + most_absent);
    const bool any = most.mantissa > 0 || least_absent.mantissa > 0;
    tighten(low_[c], high_[c], new_low, any ? ratio(most, most + least_absent) : 1);
  }
}

}  // namespace tickover::belief
