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
  if (split.bar > 0 && level > 0) split.strength = strength[level - 1] / split.bar;
  return split;
}

/// Whether any of the inhibitors hides; none when that is in question.
std::optional<bool> hides(const std::vector<std::size_t>& inhibitors, Epoch epoch,
                          const Known& known) {
  bool all_known = true;
  for (const std::size_t cause : inhibitors) {
    const std::optional<bool> present = known_present(known, cause, epoch);
    if (present == true) return true;
    all_known = all_known && present.has_value();
  }
  return all_known ? std::optional(false) : std::nullopt;
}

std::size_t comes_by(const std::vector<Window>& windows, const LevelObservation& seen) {
  return static_cast<std::size_t>(std::count_if(
      windows.begin(), windows.end(),
      [&](const Window& one) { return one.finding == seen.finding && one.epoch <= seen.epoch; }));
}

}  // namespace

std::optional<bool> known_present(const Known& known, std::size_t cause, Epoch epoch) {
  for (const CauseObservation& one : known) {
    if (one.cause == cause && one.epoch == epoch) return one.present > 0;
  }
  return std::nullopt;
}

Look::Look(const Case& given, const LevelObservation& seen, const Known& known) : seen_(seen) {
  take_leak(given, known);
  for (const Link& link : given.network->findings[seen.finding].links) take_link(link, known);
}

void Look::take_leak(const Case& given, const Known& known) {
  const Finding& finding = given.network->findings[seen_.finding];
  const Split leak = split_at(finding.leak, seen_.level);
  const std::optional<bool> hidden = hides(finding.leak_inhibitors, seen_.epoch, known);
  const std::size_t fades = comes_by(given.fades, seen_), again = comes_by(given.windows, seen_);
  plain_ = hidden.has_value() && fades == 0 && again == 0;
  if (hidden == true) return;
  base_ = z_of(leak.strength) * static_cast<double>(1 + again);
  if (hidden == false && fades == 0) log_bar_ = std::log(leak.bar) * static_cast<double>(1 + again);
}

void Look::take_link(const Link& link, const Known& known) {
  const std::optional<bool> hidden = hides(link.inhibitors, seen_.epoch, known);
  plain_ = plain_ && hidden.has_value();
  if (hidden == true) return;
  const Split split = split_at(link.strength, seen_.level);
  if (split.bar < 1 && hidden == false) {
    bars_.push_back({link.cause, seen_.epoch, split.bar, 1, 0});
  }
  if (!(split.strength > 0)) return;
  const std::optional<bool> present = known_present(known, link.cause, seen_.epoch);
  if (!present) open_.emplace_back(link.cause, z_of(split.strength));
  if (present == true) base_ += z_of(split.strength);
}

/// The tangent that promises the least mass if the causes were independent; or none, where "at most
/// 1" is better.
Factored Look::above(const std::vector<double>& present) const {
  Factored out = exact_part();
  if (seen_.level == 0) return out;
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
    if (best_slope > 0) {
      out.factors.push_back({cause, seen_.epoch, std::exp(best_slope * z), 1, 0});
    }
  }
  return out;
}

/// One cause alone, where that is worth more than a share for each, as where the leak is small.
Factored Look::below(const std::vector<double>& present) const {
  Factored out = exact_part();
  if (seen_.level == 0) return out;
  Factored best = shared_out(present);
  for (std::size_t i = 0; i < open_.size(); ++i) {
    const Factored one = only_cause(i);
    if (log_mean(one, present) > log_mean(best, present)) best = one;
  }
  out.log_constant += best.log_constant;
  out.factors.insert(out.factors.end(), best.factors.begin(), best.factors.end());
  return out;
}

/// All others left out: 1 - exp(-z) grows with z.
Factored Look::only_cause(std::size_t i) const {
  const auto& [cause, z] = open_[i];
  const double with = log_present(base_ + z);
  return {with, {{cause, seen_.epoch, 1, std::exp(log_present(base_) - with), 0}}};
}

/// Jensen's inequality with shares that follow what each cause probably adds.
Factored Look::shared_out(const std::vector<double>& present) const {
  const double at_base = log_present(base_);
  Factored out{at_base, {}};
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
    out.factors.push_back({open_[i].first, seen_.epoch, std::exp(std::min(gain, 600.0)), 1, 0});
  }
  return out;
}

double log_mean(const Factored& factored, const std::vector<double>& present) {
  double log = factored.log_constant;
  for (const CauseObservation& one : factored.factors) {
    const double p = present[one.cause];
    log += std::log(p * one.present + (1 - p) * one.absent);
  }
  return log;
}

}  // namespace tickover::belief
