#include "engine/belief/factored.hpp"

#include <algorithm>
#include <cmath>

namespace tickover::belief {
namespace {

/// A strength of 1 would make z infinite; what this leaves out is put on top of the upper bound.
constexpr double kNearlySure = 1 - 1e-12;
constexpr double kAllowance = 4e-12;

double z_of(double strength) { return -std::log1p(-std::clamp(strength, 0.0, kNearlySure)); }

/// ln(1 - exp(-z)): the log of P(present).
double log_present(double z) {
  return z > 0 ? std::log(-std::expm1(-z)) : -std::numeric_limits<double>::infinity();
}

/// P(level and no higher) as P(no higher) and P(level | no higher).
struct Split {
  double bar = 1, strength = 0;
};

Split split_at(const std::vector<double>& strength, std::size_t level) {
  Split split;
  for (std::size_t i = level; i < strength.size(); ++i) split.bar -= strength[i];
  split.bar = std::max(split.bar, 0.0);
  if (split.bar > 0) split.strength = strength[level - 1] / split.bar;
  return split;
}

}  // namespace

bool PresentFinding::fits(const Case& given, std::size_t finding) {
  if (given.network.findings[finding].inhibited()) return false;
  const auto about = [&](const auto& one) { return one.finding == finding; };
  if (std::any_of(given.windows.begin(), given.windows.end(), about)) return false;
  if (std::any_of(given.fades.begin(), given.fades.end(), about)) return false;
  for (const SoftObservation& soft : given.soft) {
    if (std::count(soft.findings.begin(), soft.findings.end(), finding) > 0) return false;
  }
  if (std::count_if(given.levels.begin(), given.levels.end(), about) != 1) return false;
  return std::find_if(given.levels.begin(), given.levels.end(), about)->level > 0;
}

PresentFinding::PresentFinding(const Case& given, std::size_t finding,
                               const std::vector<CauseObservation>& fixed) {
  const auto seen = std::find_if(given.levels.begin(), given.levels.end(),
                                 [&](const auto& one) { return one.finding == finding; });
  epoch_ = seen->epoch;
  const Split leak = split_at(given.network.findings[finding].leak, seen->level);
  base_ = z_of(leak.strength);
  log_bar_ = std::log(leak.bar);
  for (const Link& link : given.network.findings[finding].links) {
    const Split split = split_at(link.strength, seen->level);
    if (split.bar < 1) bars_.push_back({link.cause, epoch_, split.bar, 1, 0});
    const auto known = std::find_if(fixed.begin(), fixed.end(),
                                    [&](const auto& one) { return one.cause == link.cause; });
    if (known == fixed.end() || epoch_ != given.now) {
      if (split.strength > 0) open_.emplace_back(link.cause, z_of(split.strength));
    } else if (known->present > 0) {
      base_ += z_of(split.strength);
    }
  }
}

Factored PresentFinding::exact_part() const { return {log_bar_, bars_}; }

/// The tangent that promises the least mass if the causes were independent; or none, where "at most
/// 1" is better.
Factored PresentFinding::above(const std::vector<double>& present) const {
  Factored out = exact_part();
  out.log_constant += kAllowance;
  if (open_.empty()) {
    out.log_constant += log_present(base_);
    return out;
  }
  double largest = 0;
  for (const auto& [cause, z] : open_) largest = std::max(largest, z);
  double best = 0, best_slope = 0, best_constant = 0;
  for (double at = base_ + 0.01; at < base_ + 16; at = base_ + (at - base_) * 1.6) {
    const double slope = 1 / std::expm1(at);
    if (slope * largest > 50) continue;  // its factors would leave the range of double
    const double constant = log_present(at) + slope * (base_ - at);
    double log = constant;
    for (const auto& [cause, z] : open_) {
      log += std::log1p(present[cause] * std::expm1(slope * z));
    }
    if (log < best) {
      best = log;
      best_slope = slope;
      best_constant = constant;
    }
  }
  out.log_constant += best_constant;
  for (const auto& [cause, z] : open_) {
    if (best_slope > 0) out.factors.push_back({cause, epoch_, std::exp(best_slope * z), 1, 0});
  }
  return out;
}

/// Jensen's inequality with shares that follow what each cause probably adds.
Factored PresentFinding::below(const std::vector<double>& present) const {
  Factored out = exact_part();
  const double at_base = log_present(base_);
  out.log_constant += at_base;
  if (!std::isfinite(at_base)) return out;
  double sum = 0;
  std::vector<double> shares;
  for (const auto& [cause, z] : open_) {
    shares.push_back((present[cause] + 1e-9) * (log_present(base_ + z) - at_base));
    sum += shares.back();
  }
  for (std::size_t i = 0; i < open_.size(); ++i) {
    const double share = sum > 0 ? shares[i] / sum : 0;
    if (!(share > 0)) continue;
    const double gain = share * (log_present(base_ + open_[i].second / share) - at_base);
    out.factors.push_back({open_[i].first, epoch_, std::exp(std::min(gain, 600.0)), 1, 0});
  }
  return out;
}

}  // namespace tickover::belief
