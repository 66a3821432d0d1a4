#include "engine/belief/decide.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <optional>

#include "engine/belief/infer.hpp"
#include "engine/belief/tilted.hpp"

namespace tickover::belief {
namespace {

using Sensed = std::pair<std::size_t, Epoch>;  ///< a finding and the epoch it was sensed in

/// P(finding present in that epoch | all but the sensors), causes taken as independent.
class Expected {
 public:
  explicit Expected(const Case& given) : Expected(given, without_sensors(given)) {}
  Expected(const Case& given, Belief belief) : given_(given), belief_(std::move(belief)) {}

  double present(const Sensed& sensed) const {
    const Finding& finding = given_.network->findings[sensed.first];
    double absent = 1 - std::accumulate(finding.leak.begin(), finding.leak.end(), 0.0);
    for (const Link& link : finding.links) {
      absent *= 1 - present(link.cause, sensed.second) *
                        std::accumulate(link.strength.begin(), link.strength.end(), 0.0);
    }
    return std::clamp(1 - absent, 0.0, 1.0);
  }

 private:
  /// Of epochs between, the more probable of both ends.
  double present(std::size_t cause, Epoch epoch) const {
    const double start = belief_.present_at_start[cause], now = belief_.present_now[cause];
    if (epoch == given_.now) return now;
    return epoch == 0 ? start : std::max(start, now);
  }

  const Case& given_;
  Belief belief_;
};

/// Product of the tables of sensors that hang together, over all their findings.
struct Joint {
  std::vector<Sensed> sensed;
  std::vector<double> table = {1};

  void multiply(const SoftObservation& soft) {
    std::vector<std::size_t> at;
    for (const std::size_t finding : soft.findings) at.push_back(place_of({finding, soft.epoch}));
    for (std::size_t set = 0; set < table.size(); ++set) {
      std::size_t index = 0;
      for (std::size_t i = 0; i < at.size(); ++i) index |= (set >> at[i] & 1) << i;
      table[set] *= soft.likelihood[index];
    }
  }

  /// P(present) of each, the findings being independent before the sensors.
  std::vector<double> present(const Expected& expected) const {
    std::vector<double> sums(sensed.size(), 0);
    double total = 0;
    for (std::size_t set = 0; set < table.size(); ++set) {
      double weight = table[set];
      for (std::size_t i = 0; i < sensed.size(); ++i) {
        const double p = expected.present(sensed[i]);
        weight *= (set >> i & 1) != 0 ? p : 1 - p;
      }
      total += weight;
      for (std::size_t i = 0; i < sensed.size(); ++i) {
        if ((set >> i & 1) != 0) sums[i] += weight;
      }
    }
    for (double& sum : sums) sum = total > 0 ? sum / total : 1;
    return sums;
  }

 private:
  std::size_t place_of(const Sensed& one) {
    const auto found = std::find(sensed.begin(), sensed.end(), one);
    if (found != sensed.end()) return static_cast<std::size_t>(found - sensed.begin());
    sensed.push_back(one);
    const std::vector<double> known = table;
    table.insert(table.end(), known.begin(), known.end());
    return sensed.size() - 1;
  }
};

/// The sensors in groups that share a finding in an epoch.
std::vector<std::vector<const SoftObservation*>> groups_of(const Case& given) {
  std::vector<std::vector<const SoftObservation*>> groups;
  const auto share = [](const SoftObservation& a, const SoftObservation& b) {
    return a.epoch == b.epoch && std::any_of(a.findings.begin(), a.findings.end(), [&](auto f) {
             return std::count(b.findings.begin(), b.findings.end(), f) > 0;
           });
  };
  for (const SoftObservation& soft : given.soft) {
    std::vector<const SoftObservation*> together = {&soft};
    std::erase_if(groups, [&](const auto& group) {
      const bool ties = std::any_of(group.begin(), group.end(),
                                    [&](const auto* other) { return share(*other, soft); });
      if (ties) together.insert(together.begin(), group.begin(), group.end());
      return ties;
    });
    groups.push_back(std::move(together));
  }
  return groups;
}

/// Sensors that hang together, and which of their findings are taken as absent.
struct Verdict {
  Joint joint;
  std::size_t source = 0;
  std::size_t absent = 0;  ///< bits of Joint::sensed

  std::size_t bit_of(std::size_t i) const { return absent >> i & 1; }

  /// What is left to say of the other findings, `choose` picking from what the table says with each
  /// setting of those taken as absent. `shown`, if given, is looked at too.
  template <typename Choose>
  SoftObservation rest(const Choose& choose, std::optional<std::size_t> shown = {}) const {
    SoftObservation rest;
    rest.epoch = joint.sensed.front().second;
    rest.source = source;
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < joint.sensed.size(); ++i) {
      if (bit_of(i) != 0 && i != shown) continue;
      kept.push_back(i);
      rest.findings.push_back(joint.sensed[i].first);
    }
    rest.likelihood.assign(std::size_t{1} << kept.size(), 0.0);
    for (std::size_t set = 0; set < joint.table.size(); ++set) {
      std::size_t index = 0;
      for (std::size_t k = 0; k < kept.size(); ++k) index |= (set >> kept[k] & 1) << k;
      choose(rest.likelihood[index], set, joint.table[set]);
    }
    return rest;
  }

  SoftObservation if_absent() const {
    return rest([&](double& to, std::size_t set, double says) {
      if ((set & absent) == 0) to = says;
    });
  }
  SoftObservation at_most() const {
    return rest([](double& to, std::size_t, double says) { to = std::max(to, says); });
  }
  SoftObservation at_most_with(std::size_t shown) const {
    return rest(
        [&](double& to, std::size_t set, double says) {
          if ((set >> shown & 1) != 0) to = std::max(to, says);
        },
        shown);
  }
};

/// Takes a case apart once, and decides with one doubt after another.
class Decision {
 public:
  explicit Decision(const Case& given) : Decision(given, Expected(given)) {}
  Decision(const Case& given, Expected expected) : given_(given), expected_(std::move(expected)) {
    for (const auto& group : groups_of(given)) {
      Verdict& verdict = verdicts_.emplace_back();
      for (const SoftObservation* soft : group) verdict.joint.multiply(*soft);
      verdict.source = group.back()->source;
      present_.push_back(verdict.joint.present(expected_));
    }
  }

  Case decide(double doubt) {
    Case narrow = given_;
    narrow.soft.clear();
    log_said_ = 0;
    for (std::size_t v = 0; v < verdicts_.size(); ++v) {
      Verdict& verdict = verdicts_[v];
      verdict.absent = 0;
      for (std::size_t i = 0; i < present_[v].size(); ++i) {
        if (present_[v][i] > doubt) continue;
        verdict.absent |= std::size_t{1} << i;
        narrow.doubt += present_[v][i];
        const auto& [finding, epoch] = verdict.joint.sensed[i];
        narrow.levels.push_back({finding, epoch, 0, verdict.source});
      }
      log_said_ += add(verdict.if_absent(), narrow);
    }
    return narrow;
  }

  /// Natural log of what sensors say that the case as last decided does not hold any more.
  double log_said() const { return log_said_; }

  /// Natural log of U as last decided; infinite where a sweep for it would be too wide.
  double log_left_out() const {
    Solver solver;
    Case bound = given_;
    double log_sum = -std::numeric_limits<double>::infinity();
    for (const Verdict& verdict : verdicts_) {
      for (std::size_t i = 0; i < verdict.joint.sensed.size(); ++i) {
        if (verdict.bit_of(i) == 0) continue;
        bound.soft.clear();
        double log_said = 0;
        for (const Verdict& other : verdicts_) {
          log_said += add(&other == &verdict ? other.at_most_with(i) : other.at_most(), bound);
        }
        const auto log_bound = solver.log_evidence_within(bound, kWidest + kWider);
        if (!log_bound) return std::numeric_limits<double>::infinity();
        log_sum = log_of_sum(log_sum, log_said + *log_bound);
      }
    }
    return log_sum;
  }

 private:
  /// A finding more than the case that was narrow enough, and what sensors may say of its like.
  static constexpr std::size_t kWider = 3;

  /// Natural log of what it says once it speaks of no finding any more: then the case holds none.
  static double add(SoftObservation says, Case& to) {
    if (says.findings.empty()) return std::log(says.likelihood.front());
    to.soft.push_back(std::move(says));
    return 0;
  }
  static double log_of_sum(double a, double b) {
    const double more = std::max(a, b);
    return std::isfinite(more) ? more + std::log1p(std::exp(std::min(a, b) - more)) : more;
  }

  const Case& given_;
  const Expected expected_;
  std::vector<Verdict> verdicts_;
  std::vector<std::vector<double>> present_;  ///< per verdict and finding
  double log_said_ = 0;
};

}  // namespace

Belief without_sensors(const Case& given, std::size_t widest) {
  Case without = given;
  without.soft.clear();
  return rough_belief(without, widest);
}

Case decided(Case given, double doubt, const Belief* expected) {
  if (given.soft.empty()) return given;
  return (expected ? Decision(given, Expected(given, *expected)) : Decision(given)).decide(doubt);
}

namespace {

/// Tried one after the other: the first that makes a case narrow enough.
constexpr std::array<double, 5> kDoubts = {1e-4, 1e-3, 3e-3, 1e-2, 3e-2};

/// At worst, what is narrow enough to be swept at all. None where it would contradict itself.
std::optional<Case> narrow_enough(Decision& decision, std::size_t widest) {
  Solver solver;
  for (const double doubt : kDoubts) {
    Case narrow = decision.decide(doubt);
    const std::size_t width = solver.width(narrow);
    if (width > (doubt == kDoubts.back() ? kWidest : widest)) continue;
    // what was taken as absent may be all that accounts for the rest: then nothing may be so taken
    if (!std::isfinite(solver.log_evidence(narrow))) return std::nullopt;
    return narrow;
  }
  return std::nullopt;
}

bool whole(const Case& given, std::size_t widest) {
  return given.soft.empty() || Solver().width(given) <= widest;
}

}  // namespace

Case narrowed(Case given, std::size_t widest) {
  if (whole(given, widest)) return given;
  Decision decision(given);
  std::optional<Case> narrow = narrow_enough(decision, widest);
  return narrow ? std::move(*narrow) : given;
}

Belief infer_narrowed(const Case& given, std::size_t widest) {
  if (whole(given, widest)) return infer(given);
  Decision decision(given);
  const std::optional<Case> narrow = narrow_enough(decision, widest);
  if (!narrow) return infer(given);
  Belief belief = infer(*narrow);
  if (!belief.exact) return infer(given);
  const double log_known = belief.log_evidence + decision.log_said();     // P(e, A)
  const double left_out = std::exp(decision.log_left_out() - log_known);  // U / P(e, A)
  belief.exact = false;
  for (const double p : belief.present_now) {
    belief.low.push_back(std::isfinite(left_out) ? p / (1 + left_out) : 0);
    belief.high.push_back(std::isfinite(left_out) ? (p + left_out) / (1 + left_out) : 1);
  }
  return belief;
}

}  // namespace tickover::belief
