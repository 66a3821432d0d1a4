#include <algorithm>
#include <cmath>
#include <numeric>
#include <queue>

#include "engine/belief/infer.hpp"
#include "engine/belief/prepared.hpp"
#include "engine/belief/sweep.hpp"

namespace tickover::belief {
namespace {

/// Elementwise best completion from each step on: u[T] is at least the mass of the best way to take
/// the remaining variables when the set T is covered so far, since each T may choose its own way.
/// Variables that are not chosen are summed over.
std::vector<Coverage> best_completions(const std::vector<PlacedStep>& steps,
                                       const std::vector<bool>& chosen) {
  std::vector<Coverage> best(steps.size() + 1);
  best[steps.size()] = {1.0};
  for (std::size_t s = steps.size(); s-- > 0;) {
    const PlacedStep& step = steps[s];
    Coverage u = best[s + 1];
    if (step.kind == StepKind::open) {
      open_bits_transposed(u, step.bits);
    } else if (step.kind == StepKind::close) {
      close_bits_transposed(u, step.positions, *step.table);
    } else {
      Coverage sum(u.size(), 0.0);
      for (const PlacedState& state : step.states) {
        Coverage part = u;
        apply_transposed(state, part);
        for (std::size_t t = 0; t < u.size(); ++t) {
          sum[t] = chosen[step.variable] ? std::max(sum[t], part[t]) : sum[t] + part[t];
        }
      }
      u = std::move(sum);
    }
    best[s] = std::move(u);
  }
  return best;
}

/// A choice of states for the causes of the first `step` steps.
struct Partial {
  double bound = 0;  ///< no completion has more mass
  std::size_t step = 0;
  std::vector<std::size_t> chosen;  ///< state index of each cause taken, in order of steps
  Coverage covered;
};

struct WorseBound {
  bool operator()(const Partial& a, const Partial& b) const {
    if (a.bound != b.bound) return a.bound < b.bound;
    return a.chosen > b.chosen;  // ties: the earlier choice first
  }
};

class Search {
 public:
  /// `chosen` tells of each variable whether explanations speak of it.
  Search(const Problem& problem, const Schedule& schedule, std::vector<bool> chosen)
      : problem_(problem),
        chosen_(std::move(chosen)),
        steps_(place(problem, schedule)),
        best_(best_completions(steps_, chosen_)) {
    push({0, 0, {}, {1.0}});
  }

  /// The next best complete choice with its mass, or none.
  bool next(Partial& out) {
    while (!queue_.empty()) {
      Partial top = queue_.top();
      queue_.pop();
      if (top.step == steps_.size()) {
        out = std::move(top);
        return true;
      }
      expand(std::move(top));
    }
    return false;
  }

  Explanation explanation(const Partial& complete) const {
    Explanation explanation;
    std::vector<std::pair<std::size_t, Life>> present;
    std::size_t taken = 0;
    for (const PlacedStep& step : steps_) {
      if (step.kind != StepKind::apply || !chosen_[step.variable]) continue;
      const State& state = problem_.variables[step.variable].states[complete.chosen[taken++]];
      if (state.life != Life{0, 0}) present.emplace_back(step.variable, state.life);
    }
    std::sort(present.begin(), present.end(),
              [](const auto& a, const auto& b) { return a.first < b.first; });
    for (const auto& [cause, life] : present) {
      explanation.causes.push_back(cause);
      explanation.lives.push_back(life);
    }
    return explanation;
  }

 private:
  void push(Partial partial) {
    partial.bound = 0;
    const Coverage& best = best_[partial.step];
    for (std::size_t t = 0; t < best.size(); ++t) partial.bound += partial.covered[t] * best[t];
    if (partial.bound > 0) queue_.push(std::move(partial));
  }

  void expand(Partial partial) {
    const PlacedStep& step = steps_[partial.step++];
    if (step.kind == StepKind::open) {
      open_bits(partial.covered, step.bits);
    } else if (step.kind == StepKind::close) {
      close_bits(partial.covered, step.positions, *step.table);
    } else if (!chosen_[step.variable]) {
      Coverage sum(partial.covered.size(), 0.0);
      for (const PlacedState& state : step.states) {
        Coverage part = partial.covered;
        apply(state, part);
        for (std::size_t t = 0; t < sum.size(); ++t) sum[t] += part[t];
      }
      partial.covered = std::move(sum);
    } else {
      return branch(partial, step);
    }
    push(std::move(partial));
  }

  void branch(const Partial& partial, const PlacedStep& step) {
    for (std::size_t s = 0; s < step.states.size(); ++s) {
      Partial child{0, partial.step, partial.chosen, partial.covered};
      apply(step.states[s], child.covered);
      child.chosen.push_back(s);
      push(std::move(child));
    }
  }

  const Problem& problem_;
  const std::vector<bool> chosen_;
  const std::vector<PlacedStep> steps_;
  const std::vector<Coverage> best_;
  std::priority_queue<Partial, std::vector<Partial>, WorseBound> queue_;
};

/// Log of the mass of the variables that are in no step: they are summed over.
double log_mass_outside(const Prepared& ready) {
  std::vector<bool> in_step(ready.problem.variables.size(), false);
  for (const Step& step : ready.schedule.steps) {
    if (step.kind == StepKind::apply) in_step[step.index] = true;
  }
  double log = 0;
  for (std::size_t v = 0; v < in_step.size(); ++v) {
    if (in_step[v]) continue;
    double weight = 0;
    for (const State& state : ready.problem.variables[v].states) weight += state.weight;
    log += std::log(weight);
  }
  return log;
}

}  // namespace

std::vector<Explanation> explanations(const Case& given, std::size_t count) {
  std::vector<std::size_t> all(given.network.causes.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  return explanations(given, count, all);
}

std::vector<Explanation> explanations(const Case& given, std::size_t count,
                                      const std::vector<std::size_t>& among) {
  const Prepared ready = prepare(given);
  const double total = Sweep(ready.problem, ready.schedule).forward();
  std::vector<Explanation> found;
  if (!std::isfinite(total)) return found;
  std::vector<bool> chosen(ready.problem.variables.size(), false);
  for (const std::size_t cause : among) chosen[cause] = true;
  Search search(ready.problem, ready.schedule, chosen);
  const double log_rest = log_mass_outside(ready) + ready.problem.log_scale - total;
  Partial complete;
  while (found.size() < count && search.next(complete)) {
    found.push_back(search.explanation(complete));
    found.back().probability = std::min(std::exp(std::log(complete.bound) + log_rest), 1.0);
  }
  return found;
}

}  // namespace tickover::belief
