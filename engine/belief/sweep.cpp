#include "engine/belief/sweep.hpp"

#include <algorithm>

namespace tickover::belief {
namespace {

/// A step multiplies by a sum of weights, hardly ever below 1e-10.
constexpr std::size_t kRescaleEvery = 8;

/// Entries in whole lines of the cache.
std::size_t in_lines(std::size_t entries) {
  constexpr std::size_t kEntries = kLine / sizeof(double);
  return (entries + kEntries - 1) / kEntries * kEntries;
}

/// Entries kept of the vector before a step.
std::size_t kept_by(const Step& step) {
  const bool needed = step.kind == StepKind::apply || step.kind == StepKind::merge;
  return needed ? in_lines(step.size) : 0;
}

/// What two operators on the same bit do one after the other.
OneBit both(const OneBit& a, const OneBit& b) {
  return {a.silent * b.silent, a.silent * b.speaks + a.speaks * (b.silent + b.speaks), 0};
}

}  // namespace

void Sweep::set(const Problem& problem, const Schedule& schedule, std::size_t plenty) {
  problem_ = &problem;
  schedule_ = &schedule;
  taken_up_ = false;
  placed_.place(problem, schedule);
  longest_ = 1;
  for (const Step& step : schedule.steps) {
    longest_ = std::max<std::size_t>({longest_, step.size, step.size_after});
  }
  for (Entries* vector : {&v_, &next_, &scratch_}) vector->resize(longest_);
  cut(plenty);
}

/// Into segments, one if that is not too much, and where each step keeps its vector.
void Sweep::cut(std::size_t plenty) {
  const std::vector<Step>& steps = schedule_->steps;
  kept_at_.resize(steps.size());
  kept_exponent_.resize(steps.size());
  segments_.assign(1, {0, steps.size(), 0, 0});
  most_kept_ = checkpointed_ = 0;
  for (std::size_t s = 0; s < steps.size(); most_kept_ += kept_by(steps[s++])) {
    kept_at_[s] = most_kept_;
  }
  if (most_kept_ > plenty) cut_up(plenty);
}

void Sweep::cut_up(std::size_t plenty) {
  const std::vector<Step>& steps = schedule_->steps;
  std::vector<std::size_t> kept;
  for (const Step& step : steps) kept.push_back(kept_by(step));
  segments_.clear();
  most_kept_ = 0;
  for (const std::size_t first : segments(kept, plenty)) {
    if (!segments_.empty()) segments_.back().end = first;
    segments_.push_back({first, steps.size(), 0, 0});
  }
  segment_of_.resize(steps.size());
  for (std::size_t g = 0; g < segments_.size(); ++g) {
    std::size_t at = 0;
    for (std::size_t s = segments_[g].first; s < segments_[g].end; ++s) {
      segment_of_[s] = g;
      kept_at_[s] = at;
      at += kept[s];
    }
    most_kept_ = std::max(most_kept_, at);
    segments_[g].checkpoint_at = checkpointed_;
    if (g > 0) checkpointed_ += in_lines(steps[segments_[g].first].size);
  }
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
  take_up(0);
  run_to_end(0, 0);
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
    keep_ = true;
    const std::size_t segment = segment_of(first);
    if (segment == held_) {
      std::copy_n(kept_.data() + kept_at_[first], schedule_->steps[first].size, v_.data());
      run_to_end(first, kept_exponent_[first]);
    } else {
      take_up(segment);
      run_to_end(segments_[segment].first, segments_[segment].exponent);
    }
    keep_ = false;
  }
  before_ = shares;
  return scheduled_ * alone_product();
}

/// For the vectors that are kept.
void Sweep::make_room() {
  if (kept_.size() < most_kept_) kept_.resize(most_kept_);
  if (checkpoints_.size() < checkpointed_) checkpoints_.resize(checkpointed_);
  if (segments_.size() > 1) backward_.resize(longest_);
}

/// The vector that has come to the first step of a segment; that of the first of all is 1.
void Sweep::keep_checkpoint(std::size_t segment, int exponent) {
  Segment& at = segments_[segment];
  at.exponent = exponent;
  if (segment == 0) return;
  std::copy_n(v_.data(), schedule_->steps[at.first].size, checkpoints_.data() + at.checkpoint_at);
}

/// Goes back to where keep_checkpoint was.
void Sweep::take_up(std::size_t segment) {
  held_ = segment;
  const Segment& at = segments_[segment];
  v_[0] = 1;
  if (segment == 0) return;
  std::copy_n(checkpoints_.data() + at.checkpoint_at, schedule_->steps[at.first].size, v_.data());
}

/// The vectors of a segment once more, for the pass backwards, whose own vector stays as it is.
void Sweep::recall(std::size_t segment) {
  std::swap(v_, backward_);
  take_up(segment);
  keep_ = true;
  run(segments_[segment].first, segments_[segment].end, segments_[segment].exponent);
  keep_ = false;
  std::swap(v_, backward_);
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
void Sweep::run_to_end(std::size_t first, int exponent) {
  exponent = run(first, schedule_->steps.size(), exponent);
  scheduled_ = normal({v_[0], exponent});
}

/// The steps from `first` up to `end`, from the vector before them and with its exponent; returns
/// that after them.
int Sweep::run(std::size_t first, std::size_t end, int exponent) {
  for (std::size_t s = first; s < end; ++s) {
    const Step& step = schedule_->steps[s];
    if (keep_ && segment_of(s) != held_) {
      held_ = segment_of(s);
      keep_checkpoint(held_, exponent);
    }
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
  return exponent;
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
    if (segment_of(s) != held_) recall(segment_of(s));
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
