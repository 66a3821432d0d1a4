#include "engine/belief/problem.hpp"

/// Bits that a problem can do without.
namespace tickover::belief {

/// Drops the bits of presences that another presence of the same finding implies. Only findings
/// seen present more than once can have such bits. Later presences are looked at first: with fewer
/// causes left they are the ones that imply the earlier.
void Compiler::merge_implied_bits() {
  for (const std::uint32_t f : watched_) {
    std::vector<std::uint64_t> masks;
    for (const Watch::Seen& seen : watches_[f].levels) {
      if (seen.mask != 0) masks.push_back(seen.mask);
    }
    for (std::size_t i = masks.size(); masks.size() > 1 && i-- > 0;) {
      for (std::size_t j = masks.size(); j-- > 0;) {
        if (i == j || !implies(f, masks[j], masks[i])) continue;
        drop(f, masks[i]);
        masks.erase(masks.begin() + static_cast<std::ptrdiff_t>(i));
        break;
      }
    }
  }
}

/// True when every alternative that covers `one` covers `other` too.
bool Compiler::implies(std::size_t finding, std::uint64_t one, std::uint64_t other) const {
  for (const Emission& emission : out_->emissions) {
    if (emission.finding != finding) continue;
    bool both = true;
    each_alternative(*out_, emission, [&](const Alternative& way) {
      both = both && ((way.mask & one) == 0 || (way.mask & other) != 0);
    });
    if (!both) return false;
  }
  return true;
}

/// Forgets a bit: its group goes, and no emission covers it any more.
void Compiler::drop(std::size_t finding, std::uint64_t mask) {
  std::uint32_t bit = out_->bits[finding].begin;
  while ((mask >> (bit - out_->bits[finding].begin) & 1) == 0) ++bit;
  std::erase_if(out_->groups, [&](const Group& group) { return group.bits.front() == bit; });
  for (State& state : out_->states) {
    for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) {
      Emission& emission = out_->emissions[e];
      if (emission.finding != finding || (emission.touched & mask) == 0) continue;
      if (emission.one_bit()) {
        state.weight *= emission.silent + emission.speaks;
        emission.touched = 0;
        continue;
      }
      Range merged{emission.alternatives.begin, emission.alternatives.begin};
      for (std::uint32_t a = emission.alternatives.begin; a < emission.alternatives.end; ++a) {
        const Alternative one{out_->alternatives[a].weight, out_->alternatives[a].mask & ~mask};
        std::uint32_t at = merged.begin;
        while (at < merged.end && out_->alternatives[at].mask != one.mask) ++at;
        if (at < merged.end) {
          out_->alternatives[at].weight += one.weight;
        } else {
          out_->alternatives[merged.end++] = one;
        }
      }
      emission.alternatives = merged;
      take_list(emission, state);
    }
  }
}

}  // namespace tickover::belief
