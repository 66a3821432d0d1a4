#include "engine/belief/emissions.hpp"

#include <bit>
#include <cmath>

namespace tickover::belief {
namespace {

/// `bit` is 0 where there are several bits, or none.
OneBit as_one_bit(const std::vector<Cover>& covers) {
  OneBit one;
  for (const Cover& way : covers) {
    if (way.mask == 0) {
      one.silent += way.weight;
      continue;
    }
    if (!std::has_single_bit(way.mask) || (one.bit != 0 && one.bit != way.mask)) return {};
    one.bit = way.mask;
    one.speaks += way.weight;
  }
  return one;
}

}  // namespace

const Emitted& Emissions::of(std::uint32_t emission) {
  Emitted& ways = emitted_[emission];
  if (ways.known) return ways;
  ways.known = true;
  const Emission& its = problem_.emissions[emission];
  const std::uint32_t first = problem_.bits[its.finding].begin;
  each_alternative(problem_, its, [&](const Alternative& way) {
    std::uint32_t mask = 0;
    for (std::uint64_t bits = way.mask; bits != 0; bits &= bits - 1) {
      const auto bit = static_cast<std::uint32_t>(std::countr_zero(bits));
      mask |= std::uint32_t{1} << schedule_.slot[first + bit];
    }
    ways.covers.push_back({way.weight, mask});
    ways.masks.push_back(way.mask);
  });
  ways.one = as_one_bit(ways.covers);
  return ways;
}

/// In place.
void Emissions::emit(std::uint32_t emission, std::vector<double>& v) {
  const Emitted& ways = of(emission);
  if (ways.one.bit != 0) {
    cover(v.data(), v.size(), ways.one);
  } else if (!ways.covers.empty()) {
    cover(v.data(), v.size(), ways.covers.data(), ways.covers.size());
  }
}

const std::vector<double>& Emissions::emitted(const State& state, const std::vector<double>& v,
                                              std::vector<double>& room) {
  ones_.clear();
  bool ones_only = true;
  for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) {
    const Emitted& ways = of(e);
    if (ways.one.bit != 0) ones_.push_back(ways.one);
    ones_only = ones_only && (ways.one.bit != 0 || ways.covers.empty());
  }
  if (ones_only && ones_.empty()) return v;
  if (ones_only) {
    room.resize(v.size());
    cover_all(room.data(), v.data(), v.size(), ones_.data(), ones_.size());
    return room;
  }
  room = v;
  for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) emit(e, room);
  return room;
}

/// Each bit that may have been covered or not doubles the entries that one entry rests on.
bool Emissions::few_entries(const State& state, std::size_t size, std::size_t asked) const {
  int bits = 0;
  for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) {
    bits += std::popcount(problem_.emissions[e].touched);
  }
  constexpr double kOfOne = 4;  // what an entry by itself takes, in entries of a vector
  return std::ldexp(kOfOne * static_cast<double>(asked), bits) <
         static_cast<double>(size * state.emissions.size());
}

Chain Emissions::chain(const State& state, const std::vector<double>& before, std::size_t asked) {
  Chain chain{&state, &before};
  if (few_entries(state, before.size(), asked)) return chain;
  chain.after.reserve(state.emissions.size());
  for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) {
    chain.after.push_back(chain.after.empty() ? before : chain.after.back());
    emit(e, chain.after.back());
  }
  return chain;
}

double Emissions::entry(const Chain& chain, std::size_t count, std::uint32_t bits) {
  if (count == 0) return (*chain.before)[bits];
  if (!chain.after.empty()) return chain.after[count - 1][bits];
  const Emitted& ways = of(chain.state->emissions.begin + static_cast<std::uint32_t>(count) - 1);
  if (ways.covers.empty()) return entry(chain, count - 1, bits);
  if (ways.one.bit != 0) {
    if ((bits & ways.one.bit) == 0) return ways.one.silent * entry(chain, count - 1, bits);
    return (ways.one.silent + ways.one.speaks) * entry(chain, count - 1, bits) +
           ways.one.speaks * entry(chain, count - 1, bits & ~ways.one.bit);
  }
  double sum = 0;
  for (const Cover& way : ways.covers) {
    if ((bits & way.mask) != way.mask || !(way.weight > 0)) continue;
    for (std::uint32_t sub = way.mask;; sub = (sub - 1) & way.mask) {
      sum += way.weight * entry(chain, count - 1, bits & ~sub);
      if (sub == 0) break;
    }
  }
  return sum;
}

}  // namespace tickover::belief
