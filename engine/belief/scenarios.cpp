#include "engine/belief/scenarios.hpp"

#include <algorithm>
#include <map>

#include "engine/belief/alike_together.hpp"
#include "engine/belief/chance.hpp"
#include "engine/belief/emissions.hpp"
#include "engine/belief/prepared.hpp"
#include "engine/belief/tilted.hpp"

namespace tickover::belief {
namespace {

/// The weight of a draw in which causes lived so.
using Weigh = std::function<double(const Lived&)>;

class Drawing {
 public:
  Drawing(const Problem& problem, const Schedule& schedule, double fade, std::size_t count,
          std::uint64_t seed, std::size_t plenty, const Weigh& weigh)
      : problem_(problem),
        schedule_(schedule),
        fade_(fade),
        chance_(seed),
        emissions_(problem, schedule),
        segments_(segments(entries_of(schedule), plenty)),
        weigh_(weigh),
        drawn_(count),
        lived_(weigh ? count : 0) {}

  std::vector<Scenario> run() {
    if (!forward()) return {};
    std::vector<std::uint32_t> everyone(drawn_.size());
    for (std::uint32_t k = 0; k < everyone.size(); ++k) everyone[k] = k;
    for (const std::uint32_t v : schedule_.alone) draw_alone(v, everyone);
    covered_[0] = std::move(everyone);
    for (std::size_t s = schedule_.steps.size(); s-- > 0;) {
      const Step& step = schedule_.steps[s];
      if (s < segments_[held_]) recall(held_ - 1);
      if (step.kind == StepKind::close) draw_bits(step, before(s));
      if (step.kind == StepKind::apply) draw_variable(step.index, before(s));
    }
    return weighed();
  }

 private:
  static std::vector<std::size_t> entries_of(const Schedule& schedule) {
    std::vector<std::size_t> entries;
    for (const Step& step : schedule.steps) entries.push_back(step.size);
    return entries;
  }

  /// The vector before a step of the segment held.
  const std::vector<double>& before(std::size_t s) const { return before_[s - segments_[held_]]; }

  /// Keeps the vector before each segment, and of the last one before each step. False when nothing
  /// has any mass.
  bool forward() {
    std::vector<double> v(1, 1.0);
    for (held_ = 0; held_ < segments_.size(); ++held_) {
      checkpoints_.push_back(v);
      if (!run(v)) return false;
    }
    --held_;
    return std::all_of(schedule_.alone.begin(), schedule_.alone.end(),
                       [&](std::uint32_t variable) { return mass_alone(variable) > 0; });
  }

  /// The vectors of a segment once more.
  void recall(std::size_t segment) {
    held_ = segment;
    run(checkpoints_[segment]);
  }

  /// Keeps the vector before each step of the segment held, from the one before the first, which
  /// becomes that after the last.
  bool run(std::vector<double>& v) {
    const bool last = held_ + 1 == segments_.size();
    const std::size_t end = last ? schedule_.steps.size() : segments_[held_ + 1];
    before_.clear();
    for (std::size_t s = segments_[held_]; s < end; ++s) {
      const Step& step = schedule_.steps[s];
      v.resize(step.size);
      before_.push_back(std::move(v));
      if (step.kind == StepKind::apply) {
        v = applied(step.index, before_.back());
      } else {
        v = before_.back();
        v.resize(std::max(step.size, step.size_after));
        if (step.kind == StepKind::open) open_bits(step, v.data());
        if (step.kind == StepKind::close) close_bits(problem_, schedule_, step, v.data());
      }
      v.resize(step.size_after);
      const double largest = *std::max_element(v.begin(), v.end());
      if (!(largest > 0)) return false;
      if (largest < kRescaleBelow) {
        for (double& mass : v) mass /= largest;
      }
    }
    return true;
  }

  /// A cause removed and left alone are told apart afterwards (must_go).
  static double weight(const State& state) { return state.fate == Fate::kept ? 0 : state.weight; }

  double mass_alone(std::uint32_t variable) const {
    double sum = 0;
    const Range& states = problem_.variables[variable];
    for (std::uint32_t s = states.begin; s < states.end; ++s) sum += weight(problem_.states[s]);
    return sum;
  }

  std::vector<double> applied(std::uint32_t variable, const std::vector<double>& v) {
    std::vector<double> sum(v.size(), 0.0);
    const Range& states = problem_.variables[variable];
    for (std::uint32_t s = states.begin; s < states.end; ++s) {
      const State& state = problem_.states[s];
      if (!(weight(state) > 0)) continue;
      add_scaled(sum.data(), emissions_.emitted(state, v, scratch_).data(), v.size(),
                 weight(state));
    }
    return sum;
  }

  void draw_alone(std::uint32_t variable, std::vector<std::uint32_t>& everyone) {
    const Range& states = problem_.variables[variable];
    std::vector<double>& weights = weights_;
    weights.clear();
    for (std::uint32_t s = states.begin; s < states.end; ++s) {
      weights.push_back(weight(problem_.states[s]));
    }
    const std::vector<std::size_t>& shares = chance_.split(everyone.size(), weights);
    for (const auto& [s, first, last] : choose(states, shares, everyone)) {
      const double lasts = lasting(variable, s, Masks(problem_.states[s].emissions.size(), 0));
      for (std::size_t i = first; i < last; ++i) note(everyone[i], variable, s, lasts);
    }
  }

  struct Taker {
    std::uint32_t state;
    std::size_t first, last;  ///< of the draws, in their new order
  };
  using Takers = std::vector<Taker>;

  /// Which draws take which state, known until the next. Those of which nothing is to be noted, and
  /// that cover nothing, come last.
  const Takers& choose(const Range& states, const std::vector<std::size_t>& shares,
                       std::vector<std::uint32_t>& draws) {
    std::size_t taken = 0;
    Takers& takers = takers_;
    takers.clear();
    for (std::uint32_t s = states.begin; s < states.end; ++s) {
      const std::size_t share = shares[s - states.begin];
      const State& state = problem_.states[s];
      const bool nothing = state.life == Life{0, 0} && state.emissions.size() == 0;
      if (share == 0 || nothing) continue;
      takers.push_back({s, taken, taken + share});
      taken += share;
    }
    chance_.bring_forward(draws, taken);
    return takers;
  }

  /// Draws which of the closed bits were covered.
  void draw_bits(const Step& step, const std::vector<double>& before) {
    const Group& group = problem_.groups[step.index];
    std::map<std::uint32_t, std::vector<std::uint32_t>> opened;
    for (auto& [bits, draws] : covered_) {
      std::vector<std::uint32_t> ways;
      std::vector<double> weights;
      for (std::size_t c = 0; c < group.table.size(); ++c) {
        std::uint32_t way = bits;
        for (std::size_t i = 0; i < group.bits.size(); ++i) {
          if (c >> i & 1) way |= std::uint32_t{1} << schedule_.slot[group.bits[i]];
        }
        ways.push_back(way);
        weights.push_back(group.table[c] * before[way]);
      }
      const std::vector<std::size_t>& shares = chance_.split(draws.size(), weights);
      chance_.bring_forward(draws, draws.size());
      auto next = draws.begin();
      for (std::size_t c = 0; c < ways.size(); ++c) {
        const auto end = next + static_cast<std::ptrdiff_t>(shares[c]);
        if (next != end) opened[ways[c]].insert(opened[ways[c]].end(), next, end);
        next = end;
      }
    }
    covered_ = std::move(opened);
  }

  void draw_variable(std::uint32_t variable, const std::vector<double>& before) {
    const Range& states = problem_.variables[variable];
    std::vector<Chain> chains;
    for (std::uint32_t s = states.begin; s < states.end; ++s) {
      chains.push_back(emissions_.chain(problem_.states[s], before, covered_.size()));
    }
    std::vector<std::pair<std::uint32_t, std::uint32_t>> moved;  // to which bits, which draw
    for (auto& [bits, draws] : covered_) {
      std::vector<double>& weights = weights_;
      weights.clear();
      for (std::uint32_t s = states.begin; s < states.end; ++s) {
        weights.push_back(weight(problem_.states[s]) *
                          emissions_.last(chains[s - states.begin], bits));
      }
      const std::vector<std::size_t>& shares = chance_.split(draws.size(), weights);
      std::size_t gone = 0;
      for (const auto& [s, first, last] : choose(states, shares, draws)) {
        for (std::size_t i = first; i < last; ++i) {
          moved.emplace_back(emit_backwards(variable, s, chains[s - states.begin], bits, draws[i]),
                             draws[i]);
        }
        gone = last;
      }
      draws.erase(draws.begin(), draws.begin() + static_cast<std::ptrdiff_t>(gone));
    }
    for (const auto& [bits, draw] : moved) covered_[bits].push_back(draw);
    std::erase_if(covered_, [](const auto& one) { return one.second.empty(); });
  }

  /// Draws what each emission of the state covered, last first; returns what was covered before.
  std::uint32_t emit_backwards(std::uint32_t variable, std::uint32_t s, const Chain& chain,
                               std::uint32_t bits, std::uint32_t draw) {
    const Range& emissions = problem_.states[s].emissions;
    Masks& masks = masks_;
    masks.assign(emissions.size(), 0);
    for (std::size_t i = emissions.size(); i-- > 0;) {
      const auto e = static_cast<std::uint32_t>(emissions.begin + i);
      const std::vector<Cover>& covers = emissions_.of(e).covers;
      std::vector<double>& weights = weights_;
      weights.clear();
      std::vector<std::pair<std::size_t, std::uint32_t>>& ways = ways_;
      ways.clear();
      for (std::size_t a = 0; a < covers.size(); ++a) {
        if ((bits & covers[a].mask) != covers[a].mask) continue;
        for (std::uint32_t sub = covers[a].mask;; sub = (sub - 1) & covers[a].mask) {
          ways.emplace_back(a, bits & ~sub);
          weights.push_back(covers[a].weight * emissions_.entry(chain, i, bits & ~sub));
          if (sub == 0) break;
        }
      }
      if (ways.empty()) continue;
      const auto [alternative, covered] = ways[chance_.pick(weights)];
      masks[i] = emissions_.of(e).masks[alternative];
      bits = covered;
    }
    note(draw, variable, s, lasting(variable, s, masks));
    return bits;
  }

  /// Weight of a state with what its emissions covered; emissions it lacks cover nothing.
  double weight_with(const State& state, const State& drawn, const Masks& masks) const {
    double weight = state.weight;
    for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) {
      const Emission& emission = problem_.emissions[e];
      if (emission.touched == 0) continue;
      weight *= weight_of(emission, mask_on(emission.finding, drawn, masks));
    }
    for (std::size_t i = 0; i < masks.size(); ++i) {
      const std::uint32_t finding = problem_.emissions[drawn.emissions.begin + i].finding;
      if (masks[i] != 0 && !emits(state, finding)) return 0;
    }
    return weight;
  }

  double weight_of(const Emission& emission, std::uint64_t mask) const {
    double weight = 0;
    each_alternative(problem_, emission, [&](const Alternative& way) {
      if (way.mask == mask) weight = way.weight;
    });
    return weight;
  }

  std::uint64_t mask_on(std::uint32_t finding, const State& drawn, const Masks& masks) const {
    for (std::size_t i = 0; i < masks.size(); ++i) {
      if (problem_.emissions[drawn.emissions.begin + i].finding == finding) return masks[i];
    }
    return 0;
  }

  bool emits(const State& state, std::uint32_t finding) const {
    for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) {
      const Emission& emission = problem_.emissions[e];
      if (emission.finding == finding && emission.touched != 0) return true;
    }
    return false;
  }

  /// P(a variable so drawn makes the findings last if it is left alone): what its state removed has
  /// more than the same life kept.
  double lasting(std::uint32_t variable, std::uint32_t s, const Masks& masks) const {
    const State& drawn = problem_.states[s];
    if (drawn.fate != Fate::removed) return 0;
    const double all = weight_with(drawn, drawn, masks);
    const Range& states = problem_.variables[variable];
    double silent = 0;
    for (std::uint32_t k = states.begin; k < states.end; ++k) {
      const State& kept = problem_.states[k];
      if (kept.fate != Fate::kept || kept.life.begin != drawn.life.begin) continue;
      silent = weight_with(kept, drawn, masks);
    }
    return std::clamp(1 - silent / all, 0.0, 1.0) * (1 - fade_);
  }

  /// A difference of weights that should be none is rounding.
  static constexpr double kNothing = 1e-12;

  void note(std::uint32_t draw, std::uint32_t variable, std::uint32_t s, double lasts) {
    Scenario& scenario = drawn_[draw];
    if (variable >= problem_.causes) {  // a leak; a relay never lasts
      scenario.curable *= 1 - (lasts > kNothing ? lasts : 0);
      return;
    }
    const Life& life = problem_.states[s].life;
    if (weigh_ && life != Life{0, 0}) lived_[draw].emplace_back(variable, life);
    if (life.end != kForever && problem_.states[s].fate == Fate::any) return;  // ended before now
    if (scenario.present.empty()) scenario.present.reserve(4);                 // faults are few
    scenario.present.push_back(variable);
    if (lasts > kNothing) scenario.must_go.emplace_back(variable, lasts);
  }

  std::vector<Scenario> weighed() {
    for (std::size_t k = 0; k < drawn_.size(); ++k) {
      drawn_[k].share = weigh_ ? weigh_(lived_[k]) : 1;
    }
    return alike_together(std::move(drawn_));
  }

  const Problem& problem_;
  const Schedule& schedule_;
  const double fade_;
  Chance chance_;
  Emissions emissions_;
  const std::vector<std::size_t> segments_;       ///< the first step of each
  std::size_t held_ = 0;                          ///< the segment whose vectors are in before_
  std::vector<std::vector<double>> checkpoints_;  ///< before each segment; spent by recall
  std::vector<std::vector<double>> before_;       ///< before each step of a segment
  std::vector<double> scratch_, weights_;
  Masks masks_;
  Takers takers_;
  std::vector<std::pair<std::size_t, std::uint32_t>> ways_;  ///< alternative, covered before
  std::map<std::uint32_t, std::vector<std::uint32_t>>
      covered_;  ///< bits still to be explained: the draws that leave them so
  const Weigh& weigh_;
  std::vector<Scenario> drawn_;
  std::vector<Lived> lived_;  ///< per draw, where it is weighed
};

std::vector<double> priors(const Network& network) {
  std::vector<double> all;
  for (const Cause& cause : network.causes) all.push_back(cause.prior);
  return all;
}

}  // namespace

Scenarios::Scenarios(const Case& given, const std::vector<std::size_t>& findings,
                     std::size_t widest, const RoughPresent& present)
    : given_(given), ready_(std::make_unique<Prepared>()) {
  ready_->pose(given, &findings, false, widest);
  if (ready_->set_aside().empty()) return;
  std::vector<double> rough = present ? present() : std::vector<double>();
  if (rough.empty()) rough = priors(*given.network);
  tilted_ = std::make_unique<Tilted>(tilted(given, ready_->set_aside(), rough));
  seen_ = std::make_unique<GivenLives>(given, tilted_->set_aside);
  ready_->pose(tilted_->rest, &findings, false, widest);
}
Scenarios::~Scenarios() = default;

const std::vector<std::size_t>& Scenarios::set_aside() const {
  return tilted_ ? tilted_->set_aside : ready_->set_aside();
}

const std::vector<std::size_t>& Scenarios::unweighed() const {
  static const std::vector<std::size_t> none;
  return seen_ ? seen_->left_out() : none;
}

std::vector<Scenario> Scenarios::draw(std::size_t count, std::uint64_t seed,
                                      std::size_t plenty) const {
  const auto weigh = [&](const Lived& lived) { return seen_->of(lived) / tilted_->tilt(lived); };
  return Drawing(ready_->problem(), ready_->schedule(), given_.fade, count, seed, plenty,
                 seen_ ? Weigh(weigh) : Weigh())
      .run();
}

std::vector<Scenario> Scenarios::draw_unweighed(std::size_t count, std::uint64_t seed) const {
  return Drawing(ready_->problem(), ready_->schedule(), given_.fade, count, seed, kKeptPlenty, {})
      .run();
}

std::vector<Scenario> draw_scenarios(const Case& given, const std::vector<std::size_t>& findings,
                                     std::size_t count, std::uint64_t seed) {
  return Scenarios(given, findings).draw(count, seed);
}

}  // namespace tickover::belief
