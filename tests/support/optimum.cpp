#include "tests/support/optimum.hpp"

#include <algorithm>
#include <unordered_map>

namespace tickover::test {
namespace {

/// States that are less likely than this are not followed: what they cost is nothing.
constexpr double kNothing = 1e-15;

class Programme {
 public:
  Programme(const SmallJob& small, bool pruned)
      : small_(small), access_(small.job().model()), pruned_(pruned) {}

  Optimum run(const SmallJob::State& start, bool told) {
    const double minutes = best_from(start);
    std::string plan;
    if (told) tell(start, "", plan);
    return {minutes, best_.size(), plan};
  }

 private:
  using State = SmallJob::State;

  /// Something to do, and what may come of it.
  struct Move {
    std::string what;
    double spent = 0;  ///< minutes times mass
    std::vector<State> results;
    std::vector<std::string> answers;
  };

  std::vector<Move> moves(const State& state) {
    const double mass = sum_of(state.masses);
    const pack::Pack& pack = small_.pack();
    std::vector<Move> all = {{"hand on", mass * small_.minutes_to_hand_on(state), {}, {}}};
    if (state.unproven != 0) {
      all.push_back({"verify",
                     mass * small_.minutes_to_verify(state),
                     {small_.verified_still(state)},
                     {" still"}});
    }
    for (std::size_t r = 0; r < pack.repairs.size(); ++r) {
      if (!small_.can_repair(state, r)) continue;
      const std::string& id = pack.repairs[r].id;
      all.push_back(
          {id, mass * small_.minutes_of_repair(state, r), {small_.repaired(state, r)}, {" " + id}});
    }
    for (std::size_t c = 0; c < pack.checks.size(); ++c) {
      if (!small_.can_check(state, c)) continue;
      Move move{pack.checks[c].id, mass * small_.minutes_of_check(state, c), {}, {}};
      for (std::size_t answer = 0; answer < small_.answers(c); ++answer) {
        move.results.push_back(small_.checked(state, c, answer));
        move.answers.push_back(" " + move.what + "=" + std::to_string(answer));
      }
      all.push_back(std::move(move));
    }
    return all;
  }

  /// What the best policy does from here.
  void tell(const State& state, const std::string& so_far, std::string& plan) {
    const double mass = sum_of(state.masses);
    if (mass < kNothing) return;
    const double best = best_from(state);
    for (const Move& move : moves(state)) {
      double spent = move.spent;
      for (const State& then : move.results) spent += best_from(then);
      if (spent > best + 1e-9 * mass) continue;
      plan += std::to_string(mass) + so_far + " -> " + move.what + " (" +
              std::to_string(best / mass) + ")\n";
      for (std::size_t i = 0; i < move.results.size(); ++i) {
        tell(move.results[i], so_far + move.answers[i], plan);
      }
      return;
    }
  }

  /// What is known of a state: its expected minutes times mass, or only that they are no less.
  struct Known {
    double minutes = 0;
    bool exact = false;
  };

  /// Expected minutes from here times the state's mass where that is below `limit`; else something
  /// between the two.
  double best_from(const State& state, double limit = 1e300) {
    const double mass = sum_of(state.masses);
    if (mass < kNothing) return 0;
    if (const double least = told_for_free(state); pruned_ && least >= limit) return least;
    const std::string key = state.key();
    if (const auto at = best_.find(key); at != best_.end()) {
      if (at->second.exact || at->second.minutes >= limit) return at->second.minutes;
    }
    double best = 1e300;
    for (const Move& move : moves(state)) best = std::min(best, minutes_of(move, limit, best));
    best_[key] = {best, best < limit};
    return best;
  }

  /// Of a move, as far as it may stay below `limit` and `best`.
  double minutes_of(const Move& move, double limit, double best) {
    if (!pruned_) limit = best = 1e300;
    double minutes = move.spent;
    std::vector<double> least;
    for (const State& state : move.results) minutes += least.emplace_back(told_for_free(state));
    for (std::size_t i = 0; i < move.results.size() && minutes < std::min(limit, best); ++i) {
      const double others = minutes - least[i];
      minutes = others + best_from(move.results[i], std::min(limit, best) - others);
    }
    return minutes;
  }

  /// The least that can be spent from here, times mass, if all that is wrong were known: closing
  /// and verifying (or handing on), and the dearest of the repairs that must be.
  double told_for_free(const State& state) {
    const std::vector<double>& least = least_by_causes(state.open);
    const double hand_on = small_.minutes_to_hand_on(state);
    double sum = 0;
    for (std::size_t i = 0; i < state.masses.size(); ++i) {
      if (state.masses[i] == 0) continue;
      const double minutes = small_.incurable(i) ? hand_on : least[small_.must_go(i)];
      sum += state.masses[i] * std::min(minutes, hand_on);
    }
    return sum;
  }

  /// By set of causes that must go.
  const std::vector<double>& least_by_causes(const OpenLayers& open) {
    std::string key;
    for (const std::size_t layer : open) key += static_cast<char>('a' + layer);
    const auto [at, fresh] = least_.try_emplace(key);
    if (!fresh) return at->second;
    State state = small_.start();
    state.open = open;
    std::vector<double>& least = at->second;
    least.assign(std::size_t{1} << small_.pack().causes.size(), small_.minutes_to_verify(state));
    for (std::size_t set = 0; set < least.size(); ++set) {
      for (std::size_t c = 0; c < small_.pack().causes.size(); ++c) {
        if ((set >> c & 1) != 0) least[set] = std::max(least[set], cure(state, c));
      }
    }
    return least;
  }

  /// The least minutes of a repair of the cause, then closing and verifying.
  double cure(const State& state, std::size_t cause) const {
    double least = 1e300;
    for (std::size_t r = 0; r < small_.pack().repairs.size(); ++r) {
      for (const pack::Removal& one : small_.pack().repairs[r].removes) {
        if (one.cause != cause) continue;
        State then = state;
        then.open = state.open | access_.need_of(small_.pack().repairs[r]).open;
        least =
            std::min(least, small_.minutes_of_repair(state, r) + small_.minutes_to_verify(then));
      }
    }
    return least;
  }

  const SmallJob& small_;
  const Access access_;
  const bool pruned_;
  std::unordered_map<std::string, Known> best_;
  std::unordered_map<std::string, std::vector<double>> least_;  ///< by open layers
};

}  // namespace

Optimum optimum(const SmallJob& small, bool pruned, bool told) {
  return Programme(small, pruned).run(small.start(), told);
}

Optimum optimum_from(const SmallJob& small, SmallJob::State state) {
  const double mass = sum_of(state.masses);
  for (double& one : state.masses) one /= mass;
  return Programme(small, true).run(state, false);
}

}  // namespace tickover::test
