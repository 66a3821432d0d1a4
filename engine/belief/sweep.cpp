#include "engine/belief/sweep.hpp"

#include <algorithm>

namespace tickover::belief {
namespace {

/// Rescale well before the smallest normal double (2e-308) comes near.
constexpr double kRescaleBelow = 1e-60;
/// A step multiplies by a sum of weights, hardly ever below 1e-10.
constexpr std::size_t kRescaleEvery = 8;

/// Entries kept of the vector before a step, in whole lines of the cache.
std::size_t kept_by(const Step& step) {
  constexpr std::size_t kEntries = kLine / sizeof(double);
  if (step.kind != StepKind::apply && step.kind != StepKind::merge) return 0;
  return (step.size + kEntries - 1) / kEntries * kEntries;
}

/// What two operators on the same bit do one after the other.
OneBit both(const OneBit& a, const OneBit& b) {
  return {a.silent * b.silent, a.silent * b.speaks + a.speaks * (b.silent + b.speaks), 0};
}

}  // namespace

void Sweep::set(const Problem& problem, const Schedule& schedule) {
  problem_ = &problem;
  schedule_ = &schedule;
  taken_up_ = false;
  placed_.place(problem, schedule);
  std::size_t longest = 1;
  kept_at_.resize(schedule.steps.size());
  kept_exponent_.resize(schedule.steps.size());
  std::size_t kept = 0;
  for (std::size_t s = 0; s < schedule.steps.size(); ++s) {
    const Step& step = schedule.steps[s];
    longest = std::max<std::size_t>(longest, std::max(step.size, step.size_after));
    kept_at_[s] = kept;
    kept += kept_by(step);
  }
  v_.resize(longest);
  next_.resize(longest);
  scratch_.resize(longest);
}

/// How much of a state counts: all, or as likely as its variable is kept or removed.
double Sweep::fated(std::uint32_t v, const State& state) const {
  if (state.fate == Fate::any) return state.weight;
  const double removed = shares_ == nullptr ? 0 : (*shares_)[v];
  return state.weight * (state.fate == Fate::removed ? removed : 1 - removed);
}

namespace {

/// A state's emissions on the one bit it may touch, weight left out.
OneBit operator_of_state(const Placed& placed, const State& state) {
  OneBit one{1, 0, 0};
  for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) {
    one = both(one, placed.one(e));
  }
  return one;
}

}  // namespace

OneBit Sweep::operator_of(std::uint32_t v) const {
  OneBit sum;
  for (std::uint32_t s = problem_->variables[v].begin; s < problem_->variables[v].end; ++s) {
    const OneBit one = operator_of_state(placed_, problem_->states[s]);
    const double weight = fated(v, problem_->states[s]);
    sum.silent += weight * one.silent;
    sum.speaks += weight * one.speaks;
  }
  return sum;
}

OneBit Sweep::merged(const Range& variables) const {
  OneBit product{1, 0, 0};
  for (std::uint32_t i = variables.begin; i < variables.end; ++i) {
    product = both(product, operator_of(schedule_->merged[i]));
  }
  return product;
}

/// sum = all states of the step's variable applied to v.
void Sweep::apply_step(const Step& step, const double* v, double* sum) {
  const Range& states = problem_->variables[step.index];
  double plain = 0;
  for (std::uint32_t s = states.begin; s < states.end; ++s) {
    const State& state = problem_->states[s];
    if (state.emissions.size() == 0) plain += fated(step.index, state);
  }
  bool first = true;
  for (std::uint32_t s = states.begin; s < states.end; ++s) {
    const State& state = problem_->states[s];
    const double weight = fated(step.index, state);
    if (state.emissions.size() == 0 || !(weight > 0)) continue;
    placed_.apply(state, v, scratch_.data(), step.size);
    add_to(sum, first ? v : nullptr, plain, weight, step.size);
    first = false;
  }
  if (first) scale(sum, v, step.size, plain);
}

/// sum += weight * scratch; or sum = plain * v + weight * scratch, where it has nothing yet.
inline void Sweep::add_to(double* sum, const double* v, double plain, double weight,
                          std::size_t size) const {
  if (v == nullptr) return add_scaled(sum, scratch_.data(), size, weight);
  mix(sum, v, plain, scratch_.data(), weight, size);
}

/// The same transposed; the masses of the states fall out on the way.
void Sweep::apply_step_transposed(const Step& step, const double* before, int exponent,
                                  const double* u, double* sum) {
  const Range& states = problem_->variables[step.index];
  double plain = 0, outside = -1;
  for (std::uint32_t s = states.begin; s < states.end; ++s) {
    const State& state = problem_->states[s];
    if (state.emissions.size() > 0) continue;
    plain += fated(step.index, state);
    if (outside < 0) outside = inner(before, u, step.size);
    masses_[s] = normal({state.weight * outside, exponent});
  }
  bool first = true;
  for (std::uint32_t s = states.begin; s < states.end; ++s) {
    const State& state = problem_->states[s];
    if (state.emissions.size() == 0) continue;
    placed_.apply_transposed(state, u, scratch_.data(), step.size);
    masses_[s] = normal({state.weight * inner(before, scratch_.data(), step.size), exponent});
    const double weight = fated(step.index, state);
    if (!(weight > 0)) continue;
    add_to(sum, first ? u : nullptr, plain, weight, step.size);
    first = false;
  }
  if (first) scale(sum, u, step.size, plain);
}

/// Masses of variables that touch one bit alone: each sees the product of all others, from products
/// of those before it and those after it.
void Sweep::merge_masses(const Range& variables, const double* before, const double* u,
                         std::size_t size, std::uint32_t bit, int exponent) {
  const double uncovered = inner(before, u, size), covered = inner_covered(before, u, size, bit);
  const std::uint32_t count = variables.size();
  chain_.assign(count + 1, {1, 0, 0});
  for (std::uint32_t i = count; i-- > 0;) {
    chain_[i] = both(operator_of(schedule_->merged[variables.begin + i]), chain_[i + 1]);
  }
  OneBit prefix{1, 0, 0};
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::uint32_t v = schedule_->merged[variables.begin + i];
    const OneBit others = both(prefix, chain_[i + 1]);
    for (std::uint32_t s = problem_->variables[v].begin; s < problem_->variables[v].end; ++s) {
      const State& state = problem_->states[s];
      const OneBit all = both(others, operator_of_state(placed_, state));
      masses_[s] =
          normal({state.weight * (all.silent * uncovered + all.speaks * covered), exponent});
    }
    prefix = both(prefix, operator_of(v));
  }
}

void Sweep::rescale(Entries& v, std::size_t size, int& exponent) {
  const double most = largest(v.data(), size);
  if (!(most > 0) || (most >= kRescaleBelow && most <= 1 / kRescaleBelow)) return;
  const int shift = std::ilogb(most);
  const double factor = std::ldexp(1.0, -shift);
  for (std::size_t t = 0; t < size; ++t) v[t] *= factor;
  exponent += shift;
}

/// Product of the variables in no step.
Scaled Sweep::alone_product() {
  Scaled product = problem_->scale;
  alone_.clear();
  for (const std::uint32_t v : schedule_->alone) {
    double mass = 0;
    for (std::uint32_t s = problem_->variables[v].begin; s < problem_->variables[v].end; ++s) {
      mass += fated(v, problem_->states[s]);
    }
    alone_.push_back({mass, 0});
    product = product * mass;
  }
  return product;
}

Scaled Sweep::forward(const Shares* shares) {
  shares_ = shares;
  taken_up_ = false;
  v_[0] = 1;
  run(0, 0);
  return scheduled_ * alone_product();
}

Scaled Sweep::forward_again(const Shares& shares) {
  if (!taken_up_) {
    make_room();
    find_first_steps();
    keep_ = true;
    const Scaled total = forward(&shares);
    keep_ = false;
    taken_up_ = true;
    before_ = shares;
    return total;
  }
  shares_ = &shares;
  auto first = static_cast<std::uint32_t>(schedule_->steps.size());
  for (std::size_t v = 0; v < shares.size(); ++v) {
    if (shares[v] != before_[v]) first = std::min(first, first_step_[v]);
  }
  if (first < schedule_->steps.size()) {
    std::copy_n(kept_.data() + kept_at_[first], schedule_->steps[first].size, v_.data());
    keep_ = true;
    run(first, kept_exponent_[first]);
    keep_ = false;
  }
  before_ = shares;
  return scheduled_ * alone_product();
}

/// For the vectors that are kept.
void Sweep::make_room() {
  std::size_t kept = 0;
  for (const Step& step : schedule_->steps) kept += kept_by(step);
  if (kept_.size() < kept) kept_.resize(kept);
}

void Sweep::find_first_steps() {
  const auto count = static_cast<std::uint32_t>(schedule_->steps.size());
  first_step_.assign(problem_->variables.size(), count);
  for (std::uint32_t s = 0; s < count; ++s) {
    const Step& step = schedule_->steps[s];
    if (step.kind == StepKind::apply) first_step_[step.index] = s;
    if (step.kind != StepKind::merge) continue;
    const Range& merged = schedule_->merged_of[step.index];
    for (std::uint32_t i = merged.begin; i < merged.end; ++i) first_step_[schedule_->merged[i]] = s;
  }
}

/// The steps from `first` on, from the vector before it.
void Sweep::run(std::size_t first, int exponent) {
  for (std::size_t s = first; s < schedule_->steps.size(); ++s) {
    const Step& step = schedule_->steps[s];
    if (step.kind == StepKind::open) {
      open_bits(step, v_.data());
      continue;
    }
    if (keep_ && step.kind != StepKind::close) {
      std::copy_n(v_.data(), step.size, kept_.data() + kept_at_[s]);
      kept_exponent_[s] = exponent;
    }
    if (step.kind == StepKind::close) {
      close_bits(*problem_, *schedule_, step, v_.data());
    } else if (step.kind == StepKind::merge) {
      OneBit one = merged(schedule_->merged_of[step.index]);
      one.bit = std::uint32_t{1} << schedule_->slot[step.index];
      cover(v_.data(), step.size, one);
    } else {
      apply_step(step, v_.data(), next_.data());
      std::swap(v_, next_);
    }
    if (step.kind == StepKind::close || s % kRescaleEvery == 0) {
      rescale(v_, step.size_after, exponent);
    }
  }
  scheduled_ = normal({v_[0], exponent});
}

Scaled Sweep::both_ways(const Shares* shares) {
  make_room();
  keep_ = true;
  const Scaled total = forward(shares);
  keep_ = false;
  masses_.assign(problem_->states.size(), {});
  const Scaled outside = alone_product();
  int exponent = 0;
  v_[0] = outside.mantissa;
  for (std::size_t s = schedule_->steps.size(); s-- > 0;) {
    const Step& step = schedule_->steps[s];
    const double* before = kept_.data() + kept_at_[s];
    const int scale = kept_exponent_[s] + exponent + outside.exponent;
    if (step.kind == StepKind::open) continue;
    if (step.kind == StepKind::close) {
      close_bits_transposed(*problem_, *schedule_, step, v_.data());
    } else if (step.kind == StepKind::merge) {
      const Range& variables = schedule_->merged_of[step.index];
      const std::uint32_t bit = std::uint32_t{1} << schedule_->slot[step.index];
      merge_masses(variables, before, v_.data(), step.size, bit, scale);
      OneBit one = merged(variables);
      one.bit = bit;
      cover_transposed(v_.data(), step.size, one);
    } else {
      apply_step_transposed(step, before, scale, v_.data(), next_.data());
      std::swap(v_, next_);
    }
    if (step.kind == StepKind::close || s % kRescaleEvery == 0) rescale(v_, step.size, exponent);
  }
  alone_masses(scheduled_);
  return total;
}

/// Each variable in no step sees the product of all the others.
void Sweep::alone_masses(const Scaled& scheduled) {
  const std::vector<std::uint32_t>& alone = schedule_->alone;
  std::vector<Scaled>& after = alone_after_;
  after.assign(alone.size() + 1, Scaled{1, 0});
  for (std::size_t i = alone.size(); i-- > 0;) after[i] = alone_[i] * after[i + 1];
  Scaled before = scheduled * problem_->scale;
  for (std::size_t i = 0; i < alone.size(); ++i) {
    const Scaled others = before * after[i + 1];
    const Range& states = problem_->variables[alone[i]];
    for (std::uint32_t s = states.begin; s < states.end; ++s) {
      masses_[s] = others * problem_->states[s].weight;
    }
    before = before * alone_[i];
  }
}

}  // namespace tickover::belief
