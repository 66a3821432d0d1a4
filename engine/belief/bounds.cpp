#include "engine/belief/bounds.hpp"

#include <algorithm>
#include <cmath>

#include "engine/belief/prepared.hpp"
#include "engine/belief/set_aside.hpp"

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

/// The masses of a case that is narrow enough, times a constant.
Side sweep(Prepared& ready, const Case& given, std::size_t widest, const Scaled& constant) {
  ready.pose(given, nullptr, true, widest);
  Side side;
  const Scaled total = ready.sweep().both_ways();
  side.all = total * constant;
  const Problem& problem = ready.problem();
  for (std::size_t c = 0; c < problem.causes; ++c) {
    Scaled present, absent;
    double spread = 0;
    for (std::uint32_t s = problem.variables[c].begin; s < problem.variables[c].end; ++s) {
      Scaled& sum = problem.states[s].life.in(given.now) ? present : absent;
      const Scaled mass = ready.sweep().mass(s);
      const double share = std::min(ratio(mass, total), 1.0);
      sum = sum + mass;
      spread += share * (1 - share);
    }
    side.spread.push_back(spread);
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

PartBounds bound(Prepared& ready, const Case& given, std::size_t widest, Known fixed) {
  PartBounds part;
  part.fixed = std::move(fixed);
  Case whole = given;
  whole.seen.insert(whole.seen.end(), part.fixed.begin(), part.fixed.end());
  ready.pose(whole, nullptr, true, widest);
  if (ready.set_aside().empty()) {
    part.high = part.low = sweep(ready, whole, widest, {1, 0});
    part.settled = true;
    return part;
  }
  const SetAside aside(whole, ready.set_aside(), part.fixed);
  part.high = sweep(ready, aside.rest(), widest, exp_of(aside.log_most()));
  std::vector<double> present = rough(part.high), spread = part.high.spread;
  for (const bool last : {false, true}) {  // the second time it is known better where to bound
    const Sides sides = aside.sides(present);
    const Side high = sweep(ready, sides.high, widest, exp_of(sides.log_high));
    if (last) part.low = sweep(ready, sides.low, widest, exp_of(sides.log_low));
    lower_to(part.high, high);
    present = rough(high);
    spread = high.spread;
  }
  lower_to(part.low, part.high);  // rounding
  const std::vector<double> promise = aside.promise(spread);
  const auto best = std::max_element(promise.begin(), promise.end());
  part.settled = best == promise.end() || !(*best > 0);
  if (!part.settled) part.split = static_cast<std::size_t>(best - promise.begin());
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
      low_(given.network->causes.size(), 0.0),
      high_(given.network->causes.size(), 1.0),
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
  for (const LifeChance& way : lives(given_, part.split)) {
    if (!(way.probability > 0)) continue;
    Known fixed = part.fixed;
    for (Epoch epoch = 0; epoch <= given_.now; ++epoch) {
      const bool in = way.life.in(epoch);
      fixed.push_back({part.split, epoch, in ? 1.0 : 0.0, in ? 0.0 : 1.0, 0});
    }
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
