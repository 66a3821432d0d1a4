#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <numeric>
#include <optional>

#include "engine/belief/infer.hpp"
#include "engine/belief/prepared.hpp"
#include "engine/belief/sweep.hpp"

namespace tickover::belief {
namespace {

using Coverage = std::vector<double>;

/// Bytes that the accounts begun may hold together; beyond it the search ends.
constexpr std::size_t kMostHeld = std::size_t{112} << 20;

/// Multiplies with the power of two that brings the largest entry to [1, 2); returns the exponent
/// thereby taken out.
int take_exponent(Coverage& v) {
  const double most = largest(v.data(), v.size());
  if (!(most > 0)) return 0;
  const int exponent = std::ilogb(most);
  const double factor = std::ldexp(1.0, -exponent);
  for (double& mass : v) mass *= factor;
  return exponent;
}

int take_exponent_of_small(Coverage& v) {
  return largest(v.data(), v.size()) < kRescaleBelow ? take_exponent(v) : 0;
}

/// mass * 2^exponent of coverage states: of those that have any, ascending, or of all where that
/// takes less.
struct Covered {
  std::vector<std::uint32_t> states;
  std::vector<double> masses;
  int exponent = 0;

  Covered(const Coverage& v, int e) : exponent(e) {
    const auto some = static_cast<std::size_t>(
        std::count_if(v.begin(), v.end(), [](double mass) { return mass > 0; }));
    if (some * (sizeof(double) + sizeof(std::uint32_t)) >= v.size() * sizeof(double)) {
      masses = v;
      return;
    }
    states.reserve(some);
    masses.reserve(some);
    for (std::uint32_t t = 0; t < v.size(); ++t) {
      if (!(v[t] > 0)) continue;
      states.push_back(t);
      masses.push_back(v[t]);
    }
  }

  Coverage spread(std::size_t size) const {
    if (states.empty()) return masses;
    Coverage v(size, 0.0);
    for (std::size_t i = 0; i < states.size(); ++i) v[states[i]] = masses[i];
    return v;
  }

  std::size_t bytes() const {
    return states.size() * sizeof(std::uint32_t) + masses.size() * sizeof(double);
  }
};

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

/// Per coverage state, most * 2^exponent is at least the mass of the best way to take the variables
/// from a step on. Rounded upwards to a float, which takes half the memory.
struct Completion {
  std::vector<float> most;
  int exponent = 0;

  Completion(Coverage v, int e) : exponent(e + take_exponent(v)) {
    most.reserve(v.size());
    for (const double mass : v) {
      const auto rounded = static_cast<float>(mass);
      const bool below = static_cast<double>(rounded) < mass;
      most.push_back(below ? std::nextafter(rounded, std::numeric_limits<float>::infinity())
                           : rounded);
    }
  }

  /// No completion of what is covered, v * 2^e, has more mass.
  Scaled bound(const Coverage& v, int e) const {
    double sum = 0;
    for (std::size_t t = 0; t < v.size(); ++t) sum += v[t] * static_cast<double>(most[t]);
    return normal({sum, e + exponent});
  }
};

/// Elementwise best completion from each step on that is chosen: each coverage state may choose its
/// own way, so it is never below the true one. Variables that are not chosen are summed over. One
/// more for the end; none for the other steps.
std::vector<std::optional<Completion>> best_completions(const Problem& problem,
                                                        const Schedule& schedule,
                                                        const Placed& placed,
                                                        const std::vector<bool>& chosen) {
  std::vector<std::optional<Completion>> best(schedule.steps.size() + 1);
  Coverage u = {1.0};
  int exponent = 0;
  best.back().emplace(u, exponent);
  for (std::size_t at = schedule.steps.size(); at-- > 0;) {
    const Step& step = schedule.steps[at];
    const bool choice = step.kind == StepKind::apply && chosen[step.index];
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
          sum[t] = choice ? std::max(sum[t], part[t]) : sum[t] + part[t];
        }
      }
      u = std::move(sum);
    }
    u.resize(step.size);
    exponent += take_exponent_of_small(u);
    if (choice) best[at].emplace(u, exponent);
  }
  return best;
}

/// A choice of states for the causes of the first `step` steps; the next step is a choice too, or
/// there is none left.
struct Partial {
  Scaled bound;  ///< no completion has more mass
  std::size_t step = 0;
  std::vector<std::size_t> chosen;  ///< state of each cause taken, in order of steps
  /// Before the last choice: shared with the other choices there, most of which are never taken up.
  std::shared_ptr<const Covered> before;
  std::size_t step_before = 0;

  /// Of its own, without what it shares: its place in a heap that doubles, and its choices.
  std::size_t bytes() const {
    return 2 * sizeof(Partial) + (chosen.size() + 2) * sizeof(chosen[0]);
  }
};

struct WorseBound {
  bool operator()(const Partial& a, const Partial& b) const {
    if (a.bound.exponent != b.bound.exponent) return a.bound.exponent < b.bound.exponent;
    if (a.bound.mantissa != b.bound.mantissa) return a.bound.mantissa < b.bound.mantissa;
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
    Partial nothing;
    Coverage v = {1.0};
    int exponent = 0;
    go_on(nothing.step, v, exponent);
    add(std::move(nothing), v, exponent);
  }

  /// The next best complete choice with its mass, or none.
  bool next(Partial& out) {
    while (!heap_.empty() && held_ <= kMostHeld) {
      std::pop_heap(heap_.begin(), heap_.end(), WorseBound());
      Partial top = std::move(heap_.back());
      heap_.pop_back();
      held_ -= top.bytes();
      if (top.before && top.before.use_count() == 1) held_ -= top.before->bytes();
      if (top.step == schedule_.steps.size()) {
        out = std::move(top);
        return true;
      }
      branch(top);
    }
    return false;
  }

  Explanation explanation(const Partial& complete) const {
    Explanation explanation;
    std::vector<std::pair<std::size_t, Life>> present;
    std::size_t taken = 0;
    for (const Step& step : schedule_.steps) {
      if (!is_choice(step)) continue;
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
  bool is_choice(const Step& step) const {
    return step.kind == StepKind::apply && chosen_[step.index];
  }

  /// Takes all steps up to the next choice; v * 2^exponent is what is covered.
  void go_on(std::size_t& step, Coverage& v, int& exponent) const {
    for (; step < schedule_.steps.size() && !is_choice(schedule_.steps[step]); ++step) {
      forward_step(problem_, schedule_, placed_, schedule_.steps[step], v);
      exponent += take_exponent_of_small(v);
    }
  }

  /// Lets the variable of the step be in state `s`, and goes on.
  void choose(std::size_t& step, std::size_t s, Coverage& v, int& exponent) const {
    const State& state = problem_.states[s];
    placed_.apply(state, v.data(), v.size());
    for (double& mass : v) mass *= state.weight;
    exponent += take_exponent_of_small(v);
    go_on(++step, v, exponent);
  }

  void add(Partial partial, const Coverage& v, int exponent) {
    partial.bound = best_[partial.step]->bound(v, exponent);
    if (!(partial.bound.mantissa > 0)) return;
    held_ += partial.bytes();
    heap_.push_back(std::move(partial));
    std::push_heap(heap_.begin(), heap_.end(), WorseBound());
  }

  void branch(const Partial& partial) {
    Coverage now = {1.0};
    int exponent = 0;
    std::size_t step = 0;
    if (partial.before) {
      step = partial.step_before;
      now = partial.before->spread(schedule_.steps[step].size);
      exponent = partial.before->exponent;
      choose(step, partial.chosen.back(), now, exponent);
    } else {
      go_on(step, now, exponent);
    }
    const auto before = std::make_shared<const Covered>(now, exponent);
    held_ += before->bytes();
    const Range& states = problem_.variables[schedule_.steps[step].index];
    for (std::uint32_t s = states.begin; s < states.end; ++s) {
      Partial child{{}, step, {}, before, step};
      child.chosen.reserve(partial.chosen.size() + 1);  // hundreds of thousands may be held
      child.chosen = partial.chosen;
      child.chosen.push_back(s);
      Coverage v = now;
      int its = exponent;
      choose(child.step, s, v, its);
      add(std::move(child), v, its);
    }
    if (before.use_count() == 1) held_ -= before->bytes();
  }

  const Problem& problem_;
  const Schedule& schedule_;
  const std::vector<bool> chosen_;
  Placed placed_;
  std::vector<std::optional<Completion>> best_;  ///< per step, and one for the end
  std::vector<Partial> heap_;
  std::size_t held_ = 0;  ///< bytes of the heap and of what it shares
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
    found.back().probability = std::min(std::exp(complete.bound.log() + log_rest), 1.0);
  }
  return found;
}

}  // namespace tickover::belief
