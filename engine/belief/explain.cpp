#include <algorithm>
#include <cmath>
#include <numeric>
#include <queue>

#include "engine/belief/infer.hpp"
#include "engine/belief/prepared.hpp"
#include "engine/belief/sweep.hpp"

namespace tickover::belief {
namespace {

using Coverage = std::vector<double>;

/// One step forward for a variable that is summed over, or for opening and closing.
void forward_step(const Problem& problem, const Schedule& schedule, const Placed& placed,
                  const Step& step, Coverage& v) {
  v.resize(std::max(step.size, step.size_after), 0.0);
  if (step.kind == StepKind::close) close_bits(problem, schedule, step, v.data());
  if (step.kind == StepKind::apply) {
    Coverage sum(v.size(), 0.0), part;
    const Range& states = problem.variables[step.index];
    for (std::uint32_t s = states.begin; s < states.end; ++s) {
      part = v;
      placed.apply(problem.states[s], part.data(), part.size());
      add_scaled(sum.data(), part.data(), sum.size(), problem.states[s].weight);
    }
    v = std::move(sum);
  }
  v.resize(step.size_after);
}

/// Elementwise best completion from each step on: u[T] is at least the mass of the best way to take
/// the remaining variables when the set T is covered so far, since each T may choose its own way.
/// Variables that are not chosen are summed over.
std::vector<Coverage> best_completions(const Problem& problem, const Schedule& schedule,
                                       const Placed& placed, const std::vector<bool>& chosen) {
  std::vector<Coverage> best(schedule.steps.size() + 1);
  best[schedule.steps.size()] = {1.0};
  for (std::size_t at = schedule.steps.size(); at-- > 0;) {
    const Step& step = schedule.steps[at];
    Coverage u = best[at + 1];
    u.resize(std::max(step.size, step.size_after), 0.0);
    if (step.kind == StepKind::close) {
      close_bits_transposed(problem, schedule, step, u.data());
    } else if (step.kind == StepKind::apply) {
      Coverage sum(u.size(), 0.0), part;
      const Range& states = problem.variables[step.index];
      for (std::uint32_t s = states.begin; s < states.end; ++s) {
        part = u;
        placed.apply_transposed(problem.states[s], part.data(), part.size());
        for (double& x : part) x *= problem.states[s].weight;
        for (std::size_t t = 0; t < u.size(); ++t) {
          sum[t] = chosen[step.index] ? std::max(sum[t], part[t]) : sum[t] + part[t];
        }
      }
      u = std::move(sum);
    }
    u.resize(step.size);
    best[at] = std::move(u);
  }
  return best;
}

/// A choice of states for the causes of the first `step` steps.
struct Partial {
  double bound = 0;  ///< no completion has more mass
  std::size_t step = 0;
  std::vector<std::size_t> chosen;  ///< state of each cause taken, in order of steps
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
      : problem_(problem), schedule_(schedule), chosen_(std::move(chosen)) {
    placed_.place(problem, schedule);
    best_ = best_completions(problem, schedule, placed_, chosen_);
    push({0, 0, {}, {1.0}});
  }

  /// The next best complete choice with its mass, or none.
  bool next(Partial& out) {
    while (!queue_.empty()) {
      Partial top = queue_.top();
      queue_.pop();
      if (top.step == schedule_.steps.size()) {
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
    for (const Step& step : schedule_.steps) {
      if (step.kind != StepKind::apply || !chosen_[step.index]) continue;
      const State& state = problem_.states[complete.chosen[taken++]];
      if (state.life != Life{0, 0}) present.emplace_back(step.index, state.life);
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
    const Step& step = schedule_.steps[partial.step++];
    if (step.kind == StepKind::apply && chosen_[step.index]) return branch(partial, step);
    forward_step(problem_, schedule_, placed_, step, partial.covered);
    push(std::move(partial));
  }

  void branch(const Partial& partial, const Step& step) {
    const Range& states = problem_.variables[step.index];
    for (std::uint32_t s = states.begin; s < states.end; ++s) {
      const State& state = problem_.states[s];
      Partial child{0, partial.step, partial.chosen, partial.covered};
      placed_.apply(state, child.covered.data(), child.covered.size());
      for (double& x : child.covered) x *= state.weight;
      child.chosen.push_back(s);
      push(std::move(child));
    }
  }

  const Problem& problem_;
  const Schedule& schedule_;
  const std::vector<bool> chosen_;
  Placed placed_;
  std::vector<Coverage> best_;
  std::priority_queue<Partial, std::vector<Partial>, WorseBound> queue_;
};

/// Log of the mass of the variables that are in no step: they are summed over.
double log_mass_alone(const Problem& problem, const Schedule& schedule) {
  double log = problem.scale.log();
  for (const std::uint32_t v : schedule.alone) {
    double weight = 0;
    for (std::uint32_t s = problem.variables[v].begin; s < problem.variables[v].end; ++s) {
      weight += problem.states[s].weight;
    }
    log += std::log(weight);
  }
  return log;
}

}  // namespace

std::vector<Explanation> explanations(const Case& given, std::size_t count) {
  std::vector<std::size_t> all(given.network->causes.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  return explanations(given, count, all);
}

std::vector<Explanation> explanations(const Case& given, std::size_t count,
                                      const std::vector<std::size_t>& among) {
  Prepared ready;
  ready.pose(given, nullptr, false);
  const double total = ready.sweep().forward().log();
  std::vector<Explanation> found;
  if (!std::isfinite(total)) return found;
  std::vector<bool> chosen(ready.problem().variables.size(), false);
  for (const std::size_t cause : among) chosen[cause] = true;
  Search search(ready.problem(), ready.schedule(), chosen);
  const double log_rest = log_mass_alone(ready.problem(), ready.schedule()) - total;
  Partial complete;
  while (found.size() < count && search.next(complete)) {
    found.push_back(search.explanation(complete));
    found.back().probability = std::min(std::exp(std::log(complete.bound) + log_rest), 1.0);
  }
  return found;
}

}  // namespace tickover::belief
