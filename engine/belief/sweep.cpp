#include "engine/belief/sweep.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace tickover::belief {
namespace {

/// Rescale well before the smallest normal double (2e-308) comes near.
constexpr double kRescaleBelow = 1e-100;

void rescale(Coverage& v, double& log_scale) {
  const double largest = *std::max_element(v.begin(), v.end());
  if (!(largest > 0) || largest >= kRescaleBelow) return;
  for (double& x : v) x /= largest;
  log_scale += std::log(largest);
}

double inner(const Coverage& a, const Coverage& b) {
  return std::inner_product(a.begin(), a.end(), b.begin(), 0.0);
}

double total_weight(const States& states) {
  double sum = 0;
  for (const State& state : states) sum += state.weight;
  return sum;
}

/// Keeps track of where each open bit stands while the steps are laid out.
class Placer {
 public:
  explicit Placer(const Problem& problem) : problem_(problem) {}

  PlacedStep place(const Step& step) {
    PlacedStep placed;
    placed.kind = step.kind;
    if (step.kind == StepKind::apply) return place_variable(step.index);
    const Group& group = problem_.groups[step.index];
    if (step.kind == StepKind::open) {
      placed.bits = group.bits.size();
      open_.insert(open_.end(), group.bits.begin(), group.bits.end());
      return placed;
    }
    placed.table = &group.table;
    for (const std::size_t bit : group.bits) placed.positions.push_back(position(bit));
    for (const std::size_t bit : group.bits) std::erase(open_, bit);
    return placed;
  }

 private:
  std::size_t position(std::size_t bit) const {
    return static_cast<std::size_t>(std::find(open_.begin(), open_.end(), bit) - open_.begin());
  }

  PlacedStep place_variable(std::size_t v) const {
    PlacedStep placed;
    placed.variable = v;
    for (const State& s : problem_.variables[v].states) placed.states.push_back(place_state(s));
    for (const State& s : problem_.variables[v].removed) placed.removed.push_back(place_state(s));
    return placed;
  }

  PlacedState place_state(const State& state) const {
    PlacedState placed{state.weight, {}};
    placed.emissions.reserve(state.emissions.size());
    for (const Emission& emission : state.emissions) placed.emissions.push_back(place(emission));
    return placed;
  }

  Covers place(const Emission& emission) const {
    const std::vector<std::size_t>& bits = problem_.bits_of[emission.finding];
    Covers covers;
    for (const Alternative& alternative : emission.alternatives) {
      std::uint32_t mask = 0;
      for (std::size_t i = 0; i < bits.size(); ++i) {
        if (alternative.mask >> i & 1u) mask |= std::uint32_t{1} << position(bits[i]);
      }
      covers.push_back({alternative.weight, mask});
    }
    return covers;
  }

  const Problem& problem_;
  std::vector<std::size_t> open_;
};

double log_sum_exp(const std::vector<double>& logs) {
  double sum = 0, largest = -std::numeric_limits<double>::infinity();
  for (const double log : logs) largest = std::max(largest, log);
  if (!std::isfinite(largest)) return -std::numeric_limits<double>::infinity();
  for (const double log : logs) sum += std::exp(log - largest);
  return largest + std::log(sum);
}

}  // namespace

std::vector<PlacedStep> place(const Problem& problem, const Schedule& schedule) {
  Placer placer(problem);
  std::vector<PlacedStep> steps;
  for (const Step& step : schedule.steps) steps.push_back(placer.place(step));
  return steps;
}

void apply(const PlacedState& state, Coverage& v) {
  for (const Covers& emission : state.emissions) cover(v, emission);
  for (double& x : v) x *= state.weight;
}

void apply_transposed(const PlacedState& state, Coverage& u) {
  for (auto emission = state.emissions.rbegin(); emission != state.emissions.rend(); ++emission) {
    cover_transposed(u, *emission);
  }
  for (double& x : u) x *= state.weight;
}

Sweep::Sweep(const Problem& problem, const Schedule& schedule)
    : problem_(problem),
      steps_(place(problem, schedule)),
      step_of_(problem.variables.size(), steps_.size()),
      log_alone_(problem.variables.size(), 0.0) {
  for (std::size_t s = 0; s < steps_.size(); ++s) {
    if (steps_[s].kind == StepKind::apply) step_of_[steps_[s].variable] = s;
  }
}

/// sum += share * (all states applied to v).
void Sweep::add_states(Coverage& sum, double share, const std::vector<PlacedState>& states,
                       const Coverage& v, bool transposed) {
  if (!(share > 0)) return;
  for (const PlacedState& state : states) {
    if (state.emissions.empty()) {
      const double weight = share * state.weight;
      for (std::size_t t = 0; t < v.size(); ++t) sum[t] += weight * v[t];
      continue;
    }
    scratch_ = v;
    transposed ? apply_transposed(state, scratch_) : apply(state, scratch_);
    for (std::size_t t = 0; t < v.size(); ++t) sum[t] += share * scratch_[t];
  }
}

void Sweep::apply_step(const PlacedStep& step, const Coverage& v, bool transposed, Coverage& sum) {
  sum.assign(v.size(), 0.0);
  const double removed = share_removed(step.variable);
  add_states(sum, 1 - removed, step.states, v, transposed);
  add_states(sum, removed, step.removed, v, transposed);
}

double Sweep::forward(const std::vector<double>* removed) {
  removed_ = removed;
  log_alone_sum_ = 0;
  for (std::size_t v = 0; v < log_alone_.size(); ++v) {
    if (step_of_[v] != steps_.size()) continue;
    const Variable& variable = problem_.variables[v];
    log_alone_[v] = std::log((1 - share_removed(v)) * total_weight(variable.states) +
                             share_removed(v) * total_weight(variable.removed));
    log_alone_sum_ += log_alone_[v];
  }
  Coverage v = {1.0}, next;
  double log_scale = 0;
  for (std::size_t s = 0; s < steps_.size(); ++s) {
    const PlacedStep& step = steps_[s];
    if (step.kind == StepKind::open) {
      open_bits(v, step.bits);
    } else if (step.kind == StepKind::close) {
      close_bits(v, step.positions, *step.table);
      rescale(v, log_scale);
    } else {
      apply_step(step, v, false, next);
      if (keep_) {
        before_[s] = v;
        log_before_[s] = log_scale;
      }
      std::swap(v, next);
      rescale(v, log_scale);
    }
  }
  log_scheduled_ = std::log(v[0]) + log_scale;
  return log_scheduled_ + log_alone_sum_ + problem_.log_scale;
}

double Sweep::both_ways(const std::vector<double>* removed) {
  keep_ = true;
  before_.resize(steps_.size());
  after_.resize(steps_.size());
  log_before_.assign(steps_.size(), 0.0);
  log_after_.assign(steps_.size(), 0.0);
  const double total = forward(removed);
  Coverage u = {1.0}, next;
  double log_scale = 0;
  for (std::size_t s = steps_.size(); s-- > 0;) {
    const PlacedStep& step = steps_[s];
    if (step.kind == StepKind::open) {
      open_bits_transposed(u, step.bits);
    } else if (step.kind == StepKind::close) {
      close_bits_transposed(u, step.positions, *step.table);
    } else {
      apply_step(step, u, true, next);
      after_[s] = u;
      log_after_[s] = log_scale;
      std::swap(u, next);
      rescale(u, log_scale);
    }
  }
  keep_ = false;
  return total;
}

/// Log of the mass of everything but a variable that is in no step.
double Sweep::log_elsewhere(std::size_t v) const {
  double log = log_scheduled_ + problem_.log_scale;
  for (std::size_t other = 0; other < log_alone_.size(); ++other) {
    if (other != v) log += log_alone_[other];
  }
  return log;
}

std::vector<double> Sweep::log_masses(std::size_t v, const States& plain,
                                      std::vector<PlacedState> PlacedStep::*placed) const {
  std::vector<double> logs;
  if (step_of_[v] == steps_.size()) {
    const double elsewhere = log_elsewhere(v);
    for (const State& state : plain) logs.push_back(std::log(state.weight) + elsewhere);
    return logs;
  }
  const std::size_t s = step_of_[v];
  const double scale = log_before_[s] + log_after_[s] + log_alone_sum_ + problem_.log_scale;
  for (const PlacedState& state : steps_[s].*placed) {
    Coverage with_state = before_[s];
    apply(state, with_state);
    const double mass = inner(with_state, after_[s]);
    logs.push_back(std::log(mass) + scale);
  }
  return logs;
}

std::vector<double> Sweep::log_masses(std::size_t v) const {
  return log_masses(v, problem_.variables[v].states, &PlacedStep::states);
}

double Sweep::log_mass_kept(std::size_t v) const { return log_sum_exp(log_masses(v)); }

double Sweep::log_mass_removed(std::size_t v) const {
  return log_sum_exp(log_masses(v, problem_.variables[v].removed, &PlacedStep::removed));
}

}  // namespace tickover::belief
