#include "engine/belief/problem.hpp"

#include <algorithm>

namespace tickover::belief {
namespace {

/// Where each of `count` owners' entries begin, from how many each has (in `begins`, shifted by
/// one).
void accumulate(std::vector<std::uint32_t>& begins) {
  for (std::size_t i = 1; i < begins.size(); ++i) begins[i] += begins[i - 1];
}

}  // namespace

void Compiler::compile(const Case& given, const std::vector<std::size_t>* absent,
                       const std::vector<std::size_t>& set_aside, Problem& out) {
  given_ = &given;
  set_aside_ = &set_aside;
  prospects_ = absent != nullptr;
  out_ = &out;
  out.causes = given.network->causes.size();
  out.variables.clear();
  out.states.clear();
  out.emissions.clear();
  out.alternatives.clear();
  out.groups.clear();
  out.scale = {1, 0};
  lives_.take(given);
  watch_findings(absent);
  find_parts();
  number_bits();
  index_links();
  index_seen();
  for (std::size_t c = 0; c < out.causes; ++c) add_cause(c);
  part_known_causes();
  for (const std::uint32_t f : watched_) add_leaks(f);
  for (const Part& part : parts_) add_relays(part);
  merge_implied_bits();
}

/// Gives every finding's bits their numbers, and every bit its group.
void Compiler::number_bits() {
  out_->bits.assign(watches_.size() + parts_.size(), {});
  std::uint32_t count = 0;
  for (const std::uint32_t f : watched_) {
    out_->bits[f] = {count, count + watches_[f].bits};
    count += watches_[f].bits;
  }
  for (const Part& part : parts_) {
    out_->bits[number_of(part)] = {count, count + part.bits};
    count += part.bits;
  }
  out_->bit_count = count;
  for (const std::uint32_t f : watched_) {
    for (const Watch::Seen& seen : watches_[f].levels) {
      if (seen.mask == 0) continue;
      std::uint32_t bit = out_->bits[f].begin;
      while ((seen.mask >> (bit - out_->bits[f].begin) & 1) == 0) ++bit;
      out_->groups.push_back({{bit}, {0, 1}});
    }
  }
  for (const SoftBits& sensed : soft_) add_soft_group(sensed);
  for (std::uint32_t part = 0; part < parts_.size(); ++part) add_part_groups(part);
}

void Compiler::index_links() {
  links_of_.assign(out_->causes + 2, 0);
  quiet_.assign(out_->causes, 1.0);
  for (const std::uint32_t f : watched_) {
    const std::vector<Link>& links = given_->network->findings[f].links;
    if (watches_[f].folds) {
      for (const Link& link : links) quiet_[link.cause] *= weight_of_level(link.strength, 0);
    } else {
      for (const Link& link : links) ++links_of_[link.cause + 2];
    }
  }
  for (const Part& part : parts_) {
    for (const std::size_t cause : *part.inhibitors) ++links_of_[cause + 2];
  }
  accumulate(links_of_);
  links_.resize(links_of_.back());
  for (const std::uint32_t f : watched_) {
    if (watches_[f].folds) continue;
    for (const Link& link : given_->network->findings[f].links) {
      const std::uint32_t to = link.inhibitors.empty() ? f : target(f, link.inhibitors);
      links_[links_of_[link.cause + 1]++] = {to, &link.strength, link.strength.front()};
    }
  }
  for (const Part& part : parts_) {
    for (const std::size_t cause : *part.inhibitors) {
      links_[links_of_[cause + 1]++] = {number_of(part), nullptr, 0};
    }
  }
  for (std::size_t c = 0; !parts_.empty() && c < out_->causes; ++c) {  // as their bits are numbered
    std::sort(links_.begin() + links_of_[c], links_.begin() + links_of_[c + 1],
              [](const LinkTo& a, const LinkTo& b) { return a.finding < b.finding; });
  }
}

void Compiler::index_seen() {
  seen_of_.assign(out_->causes + 2, 0);
  for (const CauseObservation& seen : given_->seen) ++seen_of_[seen.cause + 2];
  accumulate(seen_of_);
  seen_.resize(given_->seen.size());
  for (std::uint32_t i = 0; i < seen_.size(); ++i) {
    seen_[seen_of_[given_->seen[i].cause + 1]++] = i;
  }
}

/// A life that still goes on may go on beyond the prospect or be ended before it: two states, where
/// that makes a difference.
void Compiler::add_cause(std::size_t cause) {
  const auto begin = static_cast<std::uint32_t>(out_->states.size());
  bool prospect = false;
  for (std::uint32_t l = links_of_[cause]; prospects_ && l < links_of_[cause + 1]; ++l) {
    prospect = prospect || in_prospect(links_[l]);
  }
  const auto add = [&](LifeChance chance) {
    const bool open_ended = chance.life.end == kForever;
    add_state(cause, chance, prospect && open_ended ? Fate::kept : Fate::any);
    if (!prospect || !open_ended) return;
    chance.life.end = given_->now + 1;
    add_state(cause, chance, Fate::removed);
  };
  for (const LifeChance& chance : lives_.of(cause)) add(chance);
  out_->variables.push_back({begin, static_cast<std::uint32_t>(out_->states.size())});
}

void Compiler::add_alternative(Range& range, double weight, std::uint64_t mask) {
  for (std::uint32_t i = range.begin; i < range.end; ++i) {
    if (out_->alternatives[i].mask != mask) continue;
    out_->alternatives[i].weight += weight;
    return;
  }
  out_->alternatives.push_back({weight, mask});
  ++range.end;
}

/// As cover() where all that was seen is absence, which most findings are: a factor.
inline bool Compiler::keep_silent(const Watch& watch, const std::vector<double>& strength,
                                  Life life, State& state) {
  for (const Watch::Seen& seen : watch.levels) {
    if (!life.in(seen.epoch)) continue;
    state.weight *= weight_of_level(strength, 0);
    break;
  }
  return state.weight > 0;
}

/// As cover() where the finding is binary and was looked at once, present: the usual bit.
inline bool Compiler::cover_one(const Watch::Seen& seen, double strength, Life life,
                                std::uint32_t f, State& state) {
  if (!life.in(seen.epoch)) return true;
  const double silent = std::max(1 - strength, 0.0);
  if (!(strength > 0)) {
    state.weight *= silent;
    return state.weight > 0;
  }
  Emission& emission = out_->emissions.emplace_back();  // filled in place, not copied
  emission.finding = f;
  emission.touched = seen.mask;
  emission.silent = silent;
  emission.speaks = strength;
  return true;
}

/// As cover() where the watch has one bit: its two weights, and no list.
bool Compiler::cover_bit(const Watch& watch, const std::vector<double>& strength, Life life,
                         std::uint32_t f, State& state) {
  double silent = 0, speaks = 0;
  std::uint64_t touched = 0;
  for (std::size_t level = 0; level <= strength.size(); ++level) {
    bool allowed = true;
    std::uint64_t mask = 0;
    for (const Watch::Seen& seen : watch.levels) {
      if (!life.in(seen.epoch)) continue;
      allowed = allowed && level <= seen.level;
      if (level == seen.level) mask |= seen.mask;
    }
    for (const Watch::Sensed& sensed : watch.soft) {
      if (life.in(sensed.epoch) && level > 0) mask |= std::uint64_t{1} << sensed.bit;
    }
    const double weight = allowed ? weight_of_level(strength, level) : 0;
    if (mask != 0 && weight > 0) touched = mask;
    (mask == 0 ? silent : speaks) += weight;
  }
  if (touched == 0) {
    state.weight *= silent;
    return state.weight > 0;
  }
  out_->emissions.push_back({f, {}, touched, silent, speaks});
  return true;
}

/// Adds to `state` what a source of these strengths that lives over `life` does to the watch: every
/// level it may produce without contradicting an observation, and which bits that covers. False
/// when nothing is possible.
bool Compiler::cover(const Watch& watch, const std::vector<double>& strength, Life life,
                     std::uint32_t f, State& state) {
  const auto begin = static_cast<std::uint32_t>(out_->alternatives.size());
  Range range{begin, begin};
  for (std::size_t level = 0; level <= strength.size(); ++level) {
    const double weight = weight_of_level(strength, level);
    bool allowed = weight > 0;
    std::uint64_t mask = 0;
    for (const Watch::Seen& seen : watch.levels) {
      if (!life.in(seen.epoch)) continue;
      if (level > seen.level) allowed = false;
      if (level == seen.level) mask |= seen.mask;
    }
    for (const Watch::Sensed& sensed : watch.soft) {
      if (life.in(sensed.epoch) && level > 0) mask |= std::uint64_t{1} << sensed.bit;
    }
    if (allowed) add_alternative(range, weight, mask);
  }
  return emit(f, range, state);
}

/// Takes the alternatives added last into the state. False when there are none.
bool Compiler::emit(std::uint32_t target, Range alternatives, State& state) {
  if (alternatives.size() == 0) return false;
  Emission emission{target, alternatives};
  take_list(emission, state);
  if (emission.touched != 0) out_->emissions.push_back(emission);
  if (emission.one_bit()) out_->alternatives.resize(alternatives.begin);
  return state.weight > 0;
}

/// Finds what the alternatives of an emission touch: nothing, which is a factor of the state, or
/// one bit, which needs no list.
void Compiler::take_list(Emission& emission, State& state) {
  emission.touched = 0;
  emission.silent = emission.speaks = 0;
  for (std::uint32_t a = emission.alternatives.begin; a < emission.alternatives.end; ++a) {
    const Alternative& one = out_->alternatives[a];
    emission.touched |= one.mask;
    (one.mask == 0 ? emission.silent : emission.speaks) += one.weight;
  }
  if (emission.touched == 0) state.weight *= emission.silent;
  if (emission.one_bit()) emission.alternatives.end = emission.alternatives.begin;
}

/// What a cause does over one link; the usual cases first.
[[gnu::always_inline]] inline bool Compiler::cover(const LinkTo& link, Life life, State& state) {
  const Watch& watch = watches_[link.finding];
  if (watch.once) {
    return cover_one(watch.levels.front(), link.first, life, link.finding, state);
  }
  if (watch.silent) return keep_silent(watch, *link.strength, life, state);
  if (watch.bits == 1) return cover_bit(watch, *link.strength, life, link.finding, state);
  return cover(watch, *link.strength, life, link.finding, state);
}

/// What a source that lives over `life` does through `link`. False when nothing is possible.
[[gnu::always_inline]] inline bool Compiler::touch(const LinkTo& link, Life life, State& state) {
  if (link.finding < watches_.size()) return cover(link, life, state);
  return touch_part(link, life, state);
}

void Compiler::add_state(std::size_t cause, const LifeChance& chance, Fate fate) {
  State& state = out_->states.emplace_back();  // filled in place, not copied
  state.life = chance.life;
  state.weight = chance.probability;
  state.fate = fate;
  if (!fill(cause, state)) out_->states.pop_back();
}

/// What was seen of the cause, and what it does over its links. False when it is impossible.
bool Compiler::fill(std::size_t cause, State& state) {
  for (std::uint32_t i = seen_of_[cause]; i < seen_of_[cause + 1]; ++i) {
    const CauseObservation& seen = given_->seen[seen_[i]];
    state.weight *= state.life.in(seen.epoch) ? seen.present : seen.absent;
  }
  const bool ever = state.life != Life{0, 0};
  if (ever) state.weight *= quiet_[cause];
  if (!(state.weight > 0)) return false;
  state.emissions.begin = static_cast<std::uint32_t>(out_->emissions.size());
  for (std::uint32_t l = links_of_[cause]; ever && l < links_of_[cause + 1]; ++l) {
    if (touch(links_[l], state.life, state)) continue;
    out_->emissions.resize(state.emissions.begin);
    return false;
  }
  state.emissions.end = static_cast<std::uint32_t>(out_->emissions.size());
  return true;
}

/// A cause that can have lived in one way alone ties no findings together, since each link draws by
/// itself: all its emissions but the first are variables of their own.
void Compiler::part_known_causes() {
  for (std::size_t c = 0; c < out_->causes; ++c) {
    const Range& states = out_->variables[c];
    if (states.size() != 1) continue;
    const State state = out_->states[states.begin];
    const Range all = state.emissions;
    if (all.size() < 2 || state.fate != Fate::any) continue;
    out_->states[states.begin].emissions.end = all.begin + 1;
    for (std::uint32_t e = all.begin + 1; e < all.end; ++e) {
      const auto next = static_cast<std::uint32_t>(out_->states.size());
      out_->states.push_back({state.life, 1, Fate::any, {e, e + 1}});
      out_->variables.push_back({next, next + 1});
    }
  }
}

void Compiler::add_leak(std::size_t finding, Epoch begin) {
  const auto first = static_cast<std::uint32_t>(out_->states.size());
  const std::vector<double>& leak = given_->network->findings[finding].leak;
  const auto f = static_cast<std::uint32_t>(finding);
  const LinkTo own{target(f, given_->network->findings[finding].leak_inhibitors), &leak,
                   leak.front()};
  const auto add = [&](const LifeChance& chance, Fate fate) {
    State state{chance.life, chance.probability, fate, {}};
    state.emissions.begin = static_cast<std::uint32_t>(out_->emissions.size());
    const bool possible = touch(own, chance.life, state);
    state.emissions.end = static_cast<std::uint32_t>(out_->emissions.size());
    if (possible) out_->states.push_back(state);
  };
  const auto add_fates = [&](LifeChance chance) {
    const bool two = watches_[finding].prospect && chance.life.end == kForever;
    add(chance, two ? Fate::kept : Fate::any);
    if (!two) return;
    chance.life.end = given_->now + 1;
    add(chance, Fate::removed);
  };
  if (given_->now == 0) {
    add_fates({{begin, kForever}, 1});
  } else {
    for (const LifeChance& chance : lives_of_leak(*given_, finding, begin)) add_fates(chance);
  }
  out_->variables.push_back({first, static_cast<std::uint32_t>(out_->states.size())});
}

/// A leak that folds is a factor of the whole.
void Compiler::add_leaks(std::size_t finding) {
  if (watches_[finding].folds) {
    out_->scale = out_->scale * weight_of_level(given_->network->findings[finding].leak, 0);
    return;
  }
  add_leak(finding, 0);
  for (const Window& window : given_->windows) {
    if (window.finding == finding) add_leak(finding, window.epoch);
  }
}

}  // namespace tickover::belief
