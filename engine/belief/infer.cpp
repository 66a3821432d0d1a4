#include "engine/belief/infer.hpp"

#include <algorithm>
#include <cmath>

#include "engine/belief/prepared.hpp"
#include "engine/belief/sweep.hpp"

namespace tickover::belief {
namespace {

Belief prior_belief(const Case& given) {
  Belief belief;
  for (std::size_t c = 0; c < given.network.causes.size(); ++c) {
    double now = 0;
    for (const LifeChance& chance : lives(given, c)) {
      if (chance.life.in(given.now)) now += chance.probability;
    }
    belief.present_at_start.push_back(given.network.causes[c].prior);
    belief.present_now.push_back(now);
  }
  return belief;
}

/// Shares of the states' masses in which the cause is present at `epoch`.
double present(const States& states, const std::vector<double>& logs, double log_total,
               Epoch epoch) {
  double sum = 0;
  for (std::size_t s = 0; s < states.size(); ++s) {
    if (states[s].life.in(epoch)) sum += std::exp(logs[s] - log_total);
  }
  return std::min(sum, 1.0);
}

double log_sum(const std::vector<double>& logs) {
  const double largest = *std::max_element(logs.begin(), logs.end());
  double sum = 0;
  for (const double log : logs) sum += std::exp(log - largest);
  return largest + std::log(sum);
}

/// P within [low, high] when the odds may be off by what was set aside: its likelihood lies between
/// `lows` and `highs` whatever the causes are.
void bound(Belief& belief, const Case& given, const std::vector<std::size_t>& set_aside) {
  double lows = 1, highs = 1;
  for (const std::size_t finding : set_aside) {
    const auto [low, high] = bounds_of_observations(given, finding);
    lows *= low;
    highs *= high;
  }
  belief.exact = false;
  for (const double p : belief.present_now) {
    belief.low.push_back(p > 0 ? p * lows / (p * lows + (1 - p) * highs) : 0);
    belief.high.push_back(p < 1 ? p * highs / (p * highs + (1 - p) * lows) : 1);
  }
}

/// exp(log - log_total), the share of a mass in the total; 0 when either is nothing.
double share(double log, double log_total) {
  if (!std::isfinite(log) || !std::isfinite(log_total)) return 0;
  return std::min(std::exp(log - log_total), 1.0);
}

std::vector<Removal> all_removed(const Case& given) {
  std::vector<Removal> all;
  for (std::size_t c = 0; c < given.network.causes.size(); ++c) all.push_back({c, 0, 1, 0});
  return all;
}

}  // namespace

Belief infer(const Case& given) {
  const Prepared ready = prepare(given);
  Sweep sweep(ready.problem, ready.schedule);
  Belief belief;
  belief.log_evidence = sweep.both_ways();
  if (!std::isfinite(belief.log_evidence)) {
    belief = prior_belief(given);
    belief.contradiction = true;
    belief.log_evidence = -std::numeric_limits<double>::infinity();
    return belief;
  }
  belief.width = ready.schedule.width;
  for (std::size_t c = 0; c < ready.problem.causes; ++c) {
    const std::vector<double> logs = sweep.log_masses(c);
    const States& states = ready.problem.variables[c].states;
    const double total = log_sum(logs);
    belief.present_at_start.push_back(present(states, logs, total, 0));
    belief.present_now.push_back(present(states, logs, total, given.now));
  }
  if (!ready.set_aside.empty()) bound(belief, given, ready.set_aside);
  return belief;
}

double log_evidence(const Case& given) {
  const Prepared ready = prepare(given);
  const double log = Sweep(ready.problem, ready.schedule).forward();
  return std::isfinite(log) ? log : -std::numeric_limits<double>::infinity();
}

struct Prospects::Parts {
  Parts(const Case& given, const std::vector<std::size_t>& findings, double log)
      : log_evidence(log), ready(prepare(given, &findings)), sweep(ready.problem, ready.schedule) {}

  /// P(removed) of every variable after `removals`; leaks stay.
  std::vector<double> shares(const std::vector<Removal>& removals) const {
    std::vector<double> kept(ready.problem.variables.size(), 1.0);
    for (const Removal& removal : removals) kept[removal.cause] *= 1 - removal.success;
    for (double& share : kept) share = 1 - share;
    return kept;
  }

  double log_evidence;
  Prepared ready;
  Sweep sweep;
};

Prospects::Prospects(const Case& given, const std::vector<std::size_t>& findings,
                     double known_log_evidence)
    : parts_(std::make_unique<Parts>(given, findings, known_log_evidence)) {}

Prospects::~Prospects() = default;

double Prospects::cured(const std::vector<Removal>& removals) {
  const std::vector<double> removed = parts_->shares(removals);
  return share(parts_->sweep.forward(&removed), parts_->log_evidence);
}

CureProspects Prospects::with_each(const std::vector<Removal>& removals) {
  const std::vector<double> removed = parts_->shares(removals);
  CureProspects prospects;
  prospects.base = share(parts_->sweep.both_ways(&removed), parts_->log_evidence);
  for (std::size_t c = 0; c < parts_->ready.problem.causes; ++c) {
    prospects.with_cause.push_back(share(parts_->sweep.log_mass_removed(c), parts_->log_evidence));
  }
  return prospects;
}

std::vector<double> Prospects::culprits() {
  std::vector<double> removed(parts_->ready.problem.variables.size(), 0.0);
  std::fill_n(removed.begin(), parts_->ready.problem.causes, 1.0);
  const double all = share(parts_->sweep.both_ways(&removed), parts_->log_evidence);
  std::vector<double> culprits;
  for (std::size_t c = 0; c < parts_->ready.problem.causes; ++c) {
    const double kept = share(parts_->sweep.log_mass_kept(c), parts_->log_evidence);
    culprits.push_back(std::max(all - kept, 0.0));
  }
  return culprits;
}

double cured(const Case& given, const std::vector<std::size_t>& findings,
             const std::vector<Removal>& removals) {
  return Prospects(given, findings, log_evidence(given)).cured(removals);
}

double unlisted(const Case& given, const std::vector<std::size_t>& findings) {
  return 1 - cured(given, findings, all_removed(given));
}

}  // namespace tickover::belief
