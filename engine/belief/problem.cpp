#include "engine/belief/problem.hpp"

#include <algorithm>
#include <cmath>

namespace tickover::belief {
namespace {

constexpr std::size_t kNoBit = static_cast<std::size_t>(-1);

/// The observations of one finding, and the bits they need; bits are positions in `bits`.
struct Watch {
  struct Seen {
    Epoch epoch;
    std::size_t level;
    std::size_t bit;  ///< kNoBit when the level is 0
  };
  struct Sensed {
    Epoch epoch;
    std::size_t bit;
  };
  std::vector<Seen> levels;
  std::vector<Sensed> soft;
  std::vector<std::size_t> bits;  ///< ids of the bits

  bool watched() const { return !levels.empty() || !soft.empty(); }
};

double weight_of_level(const std::vector<double>& strength, std::size_t level) {
  if (level > 0) return strength[level - 1];
  double silent = 1;
  for (const double s : strength) silent -= s;
  return std::max(silent, 0.0);
}

using Alternatives = decltype(Emission::alternatives);

void add(Alternatives& alternatives, double weight, std::uint32_t mask) {
  for (Alternative& known : alternatives) {
    if (known.mask != mask) continue;
    known.weight += weight;
    return;
  }
  alternatives.push_back({weight, mask});
}

/// What a source of these strengths that lives over `life` does to the watch: every level it may
/// produce without contradicting an observation, and which bits that covers.
Alternatives cover_of(const Watch& watch, const std::vector<double>& strength, Life life) {
  Alternatives cover;
  for (std::size_t level = 0; level <= strength.size(); ++level) {
    const double weight = weight_of_level(strength, level);
    bool allowed = weight > 0;
    std::uint32_t mask = 0;
    for (const Watch::Seen& seen : watch.levels) {
      if (!life.in(seen.epoch)) continue;
      if (level > seen.level) allowed = false;
      if (level == seen.level && level > 0) mask |= 1u << seen.bit;
    }
    for (const Watch::Sensed& sensed : watch.soft) {
      if (life.in(sensed.epoch) && level > 0) mask |= 1u << sensed.bit;
    }
    if (allowed) add(cover, weight, mask);
  }
  return cover;
}

/// Puts what is emitted into the state: a mere factor when it covers nothing.
void emit(State& state, std::size_t finding, Alternatives cover) {
  if (cover.empty()) {
    state.weight = 0;
  } else if (cover.size() == 1 && cover.front().mask == 0) {
    state.weight *= cover.front().weight;
  } else {
    state.emissions.push_back({finding, std::move(cover)});
  }
}

class Compiler {
 public:
  Compiler(const Case& given, const std::vector<std::size_t>* absent,
           const std::vector<std::size_t>& set_aside)
      : given_(given), absent_(absent), set_aside_(set_aside) {}

  Problem compile() {
    problem_.causes = given_.network.causes.size();
    watch_findings();
    index_links();
    for (std::size_t c = 0; c < problem_.causes; ++c) add_cause(c);
    for (std::size_t f = 0; f < watches_.size(); ++f) add_leaks(f);
    merge_implied_bits();
    for (Watch& watch : watches_) problem_.bits_of.push_back(std::move(watch.bits));
    for (Variable& variable : problem_.variables) take_out_scale(variable);
    return std::move(problem_);
  }

 private:
  bool aside(std::size_t finding) const {
    return std::binary_search(set_aside_.begin(), set_aside_.end(), finding);
  }

  void watch_findings() {
    watches_.resize(given_.network.findings.size());
    for (const LevelObservation& seen : given_.levels) {
      if (aside(seen.finding)) continue;
      Watch& watch = watches_[seen.finding];
      watch.levels.push_back({seen.epoch, seen.level, seen.level > 0 ? hard_bit(watch) : kNoBit});
    }
    for (const SoftObservation& soft : given_.soft) add_soft(soft);
    if (absent_ == nullptr) return;
    for (const std::size_t finding : *absent_) {
      watches_[finding].levels.push_back({given_.now + 1, 0, kNoBit});
    }
  }

  /// A new bit of the watch; its position there.
  std::size_t new_bit(Watch& watch) {
    watch.bits.push_back(problem_.bit_count++);
    return watch.bits.size() - 1;
  }

  std::size_t hard_bit(Watch& watch) {
    problem_.groups.push_back({{problem_.bit_count}, {0, 1}});
    return new_bit(watch);
  }

  /// The first epoch from which on nothing that moves the finding has come or gone until `epoch`:
  /// what a sensor sees of it is the same in all of them, so they share a bit.
  Epoch settled_since(std::size_t finding, Epoch epoch) const {
    Epoch since = 0;
    if (given_.removals.empty() && given_.windows.empty()) return since;
    const auto change = [&](Epoch at) {
      if (at <= epoch) since = std::max(since, at);
    };
    for (const Link& link : given_.network.findings[finding].links) {
      for (const LifeChance& chance : lives(given_, link.cause)) {
        change(chance.life.begin);
        change(chance.life.end);
      }
    }
    for (const Window& window : given_.windows) {
      if (window.finding == finding) change(window.epoch);
    }
    return since;
  }

  /// The id of the bit of a sensed finding in that epoch.
  std::size_t soft_bit(Watch& watch, Epoch epoch) {
    for (const Watch::Sensed& sensed : watch.soft) {
      if (sensed.epoch == epoch) return watch.bits[sensed.bit];
    }
    const std::size_t bit = new_bit(watch);
    watch.soft.push_back({epoch, bit});
    return watch.bits[bit];
  }

  /// A sensor's table over its bits. Sensors that share a bit become one group with the product of
  /// their tables, since a bit is closed only once.
  void add_soft(const SoftObservation& soft) {
    if (std::any_of(soft.findings.begin(), soft.findings.end(),
                    [&](std::size_t f) { return aside(f); })) {
      return;
    }
    const double first = soft.likelihood.front();
    if (first > 0 && std::count(soft.likelihood.begin(), soft.likelihood.end(), first) ==
                         std::ssize(soft.likelihood)) {
      problem_.log_scale += std::log(first);  // it tells nothing: no bit is needed for it
      return;
    }
    Group group{{}, soft.likelihood};
    for (const std::size_t f : soft.findings) {
      group.bits.push_back(soft_bit(watches_[f], settled_since(f, soft.epoch)));
    }
    for (std::size_t g = problem_.groups.size(); g-- > 0;) {
      if (!share_a_bit(problem_.groups[g], group)) continue;
      group = product(problem_.groups[g], group);
      problem_.groups.erase(problem_.groups.begin() + static_cast<std::ptrdiff_t>(g));
    }
    problem_.groups.push_back(std::move(group));
  }

  static bool share_a_bit(const Group& a, const Group& b) {
    return std::any_of(a.bits.begin(), a.bits.end(), [&](std::size_t bit) {
      return std::find(b.bits.begin(), b.bits.end(), bit) != b.bits.end();
    });
  }

  /// Index into `group.table` of the combination that has the bits set which `combination` of
  /// `bits` has.
  static std::size_t project(std::size_t combination, const std::vector<std::size_t>& bits,
                             const Group& group) {
    std::size_t index = 0;
    for (std::size_t i = 0; i < group.bits.size(); ++i) {
      const auto at = std::find(bits.begin(), bits.end(), group.bits[i]) - bits.begin();
      if (combination >> at & 1) index |= std::size_t{1} << i;
    }
    return index;
  }

  static Group product(const Group& a, const Group& b) {
    Group both{a.bits, {}};
    for (const std::size_t bit : b.bits) {
      if (std::find(a.bits.begin(), a.bits.end(), bit) == a.bits.end()) both.bits.push_back(bit);
    }
    both.table.resize(std::size_t{1} << both.bits.size());
    for (std::size_t c = 0; c < both.table.size(); ++c) {
      both.table[c] = a.table[project(c, both.bits, a)] * b.table[project(c, both.bits, b)];
    }
    return both;
  }

  void index_links() {
    links_.resize(problem_.causes);
    for (std::size_t f = 0; f < watches_.size(); ++f) {
      if (!watches_[f].watched()) continue;
      for (const Link& link : given_.network.findings[f].links) {
        links_[link.cause].push_back({f, &link.strength});
      }
    }
    seen_.resize(problem_.causes);
    for (const CauseObservation& seen : given_.seen) seen_[seen.cause].push_back(&seen);
  }

  State state_of(std::size_t cause, const LifeChance& chance) const {
    State state{chance.life, chance.probability, {}};
    for (const CauseObservation* seen : seen_[cause]) {
      state.weight *= chance.life.in(seen->epoch) ? seen->present : seen->absent;
    }
    if (chance.life == Life{0, 0}) return state;
    for (const auto& [finding, strength] : links_[cause]) {
      if (!(state.weight > 0)) break;
      emit(state, finding, cover_of(watches_[finding], *strength, chance.life));
    }
    return state;
  }

  States states_of(std::size_t cause, const std::vector<LifeChance>& chances) const {
    States states;
    for (const LifeChance& chance : chances) {
      State state = state_of(cause, chance);
      if (state.weight > 0) states.push_back(std::move(state));
    }
    return states;
  }

  void add_cause(std::size_t cause) {
    std::vector<LifeChance> chances = lives(given_, cause);
    Variable variable{states_of(cause, chances), {}};
    if (absent_ != nullptr) {
      for (LifeChance& chance : chances) {
        if (chance.life.end == kForever) chance.life.end = given_.now + 1;
      }
      variable.removed = states_of(cause, chances);
    }
    problem_.variables.push_back(std::move(variable));
  }

  void add_leak(std::size_t finding, Epoch begin) {
    State state{{begin, kForever}, 1, {}};
    const std::vector<double>& leak = given_.network.findings[finding].leak;
    emit(state, finding, cover_of(watches_[finding], leak, state.life));
    problem_.variables.push_back({{}, {}});
    if (state.weight > 0) problem_.variables.back().states.push_back(std::move(state));
  }

  void add_leaks(std::size_t finding) {
    if (!watches_[finding].watched()) return;
    add_leak(finding, 0);
    for (const Window& window : given_.windows) {
      if (window.finding == finding) add_leak(finding, window.epoch);
    }
  }

  template <class Use>
  void each_state(const Use& use) {
    for (Variable& variable : problem_.variables) {
      for (State& state : variable.states) use(state);
      for (State& state : variable.removed) use(state);
    }
  }

  /// Drops the bits of presences that another presence of the same finding implies. Only findings
  /// seen present more than once can have such bits.
  void merge_implied_bits() {
    for (std::size_t f = 0; f < watches_.size(); ++f) {
      std::vector<std::size_t> positions;
      for (const Watch::Seen& seen : watches_[f].levels) {
        if (seen.bit != kNoBit) positions.push_back(seen.bit);
      }
      if (positions.size() < 2) continue;
      for (const std::size_t position : implied(f, positions)) drop(f, position);
    }
  }

  /// Positions whose bit is covered by whatever covers another that stays.
  std::vector<std::size_t> implied(std::size_t finding, std::vector<std::size_t> positions) {
    std::vector<std::size_t> dropped;
    // later presences first: with fewer causes left they are the ones that imply the earlier
    for (std::size_t i = positions.size(); i-- > 0;) {
      for (std::size_t j = positions.size(); j-- > 0;) {
        if (i == j || !implies(finding, 1u << positions[j], 1u << positions[i])) continue;
        dropped.push_back(positions[i]);
        positions.erase(positions.begin() + static_cast<std::ptrdiff_t>(i));
        break;
      }
    }
    return dropped;
  }

  /// True when every alternative that covers `one` covers `other` too.
  bool implies(std::size_t finding, std::uint32_t one, std::uint32_t other) {
    bool holds = true;
    each_state([&](const State& state) {
      for (const Emission& emission : state.emissions) {
        if (emission.finding != finding) continue;
        for (const Alternative& alternative : emission.alternatives) {
          if ((alternative.mask & one) && !(alternative.mask & other)) holds = false;
        }
      }
    });
    return holds;
  }

  /// Forgets a bit: its group goes, and no emission covers it any more.
  void drop(std::size_t finding, std::size_t position) {
    const std::size_t bit = watches_[finding].bits[position];
    std::erase_if(problem_.groups, [&](const Group& group) { return group.bits.front() == bit; });
    each_state([&](State& state) {
      const std::vector<Emission> emissions = std::move(state.emissions);
      state.emissions.clear();
      for (const Emission& emission : emissions) {
        Alternatives cover;
        const std::uint32_t keep = emission.finding == finding ? ~(1u << position) : ~0u;
        for (const Alternative& one : emission.alternatives)
          add(cover, one.weight, one.mask & keep);
        emit(state, emission.finding, std::move(cover));
      }
    });
  }

  void take_out_scale(Variable& variable) {
    double largest = 0;
    for (const State& state : variable.states) largest = std::max(largest, state.weight);
    for (const State& state : variable.removed) largest = std::max(largest, state.weight);
    if (!(largest > 0)) return;
    for (State& state : variable.states) state.weight /= largest;
    for (State& state : variable.removed) state.weight /= largest;
    problem_.log_scale += std::log(largest);
  }

  struct LinkTo {
    std::size_t finding;
    const std::vector<double>* strength;
  };

  const Case& given_;
  const std::vector<std::size_t>* absent_;
  const std::vector<std::size_t>& set_aside_;
  Problem problem_;
  std::vector<Watch> watches_;
  std::vector<std::vector<LinkTo>> links_;
  std::vector<std::vector<const CauseObservation*>> seen_;
};

}  // namespace

Problem compile(const Case& given, const std::vector<std::size_t>* absent,
                const std::vector<std::size_t>& set_aside) {
  return Compiler(given, absent, set_aside).compile();
}

}  // namespace tickover::belief
