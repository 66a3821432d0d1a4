#include <algorithm>
#include <bit>

#include "engine/belief/sweep.hpp"

/// What a step does to a vector.
namespace tickover::belief {
namespace {

/// The vector's index with just the bits of combination `c` of the group.
std::size_t index_of(const Group& group, const Schedule& schedule, std::size_t c) {
  std::size_t index = 0;
  for (std::size_t i = 0; i < group.bits.size(); ++i) {
    if (c >> i & 1) index |= std::size_t{1} << schedule.slot[group.bits[i]];
  }
  return index;
}

/// Calls `use(index)` for every index below `size` that has none of `mask`'s bits.
template <class Use>
void each_without(std::size_t size, std::size_t mask, const Use& use) {
  for (std::size_t t = 0; t < size; t = ((t | mask) + 1) & ~mask) use(t);
}

}  // namespace

/// Most emissions touch one bit: those need no list of covers.
void Placed::place(const Problem& problem, const Schedule& schedule) {
  emissions_.resize(problem.emissions.size());
  covers_.clear();
  for (std::size_t e = 0; e < emissions_.size(); ++e) {
    const Emission& emission = problem.emissions[e];
    const std::uint32_t first = problem.bits[emission.finding].begin;
    const Range& range = emission.alternatives;
    const std::uint64_t touched = emission.touched;
    OneBit one;
    for (std::uint32_t a = range.begin; a < range.end; ++a) {
      const Alternative& alternative = problem.alternatives[a];
      (alternative.mask == 0 ? one.silent : one.speaks) += alternative.weight;
    }
    const auto begin = static_cast<std::uint32_t>(covers_.size());
    emissions_[e] = {true, {1, 0, 0}, {begin, begin}};
    if (touched == 0) continue;  // emits nothing any more
    if ((touched & (touched - 1)) == 0) {
      one.bit = std::uint32_t{1}
                << schedule.slot[first + static_cast<std::uint32_t>(std::countr_zero(touched))];
      emissions_[e].one = one;
      continue;
    }
    emissions_[e].one_bit = false;
    for (std::uint32_t a = range.begin; a < range.end; ++a) {
      const Alternative& alternative = problem.alternatives[a];
      std::uint32_t mask = 0;
      for (std::uint64_t bits = alternative.mask; bits != 0; bits &= bits - 1) {
        mask |= std::uint32_t{1}
                << schedule.slot[first + static_cast<std::uint32_t>(std::countr_zero(bits))];
      }
      covers_.push_back({alternative.weight, mask});
    }
    emissions_[e].covers.end = static_cast<std::uint32_t>(covers_.size());
  }
}

void Placed::apply(std::uint32_t e, double* v, std::size_t size) const {
  const PlacedEmission& emission = emissions_[e];
  if (!emission.one_bit) {
    cover(v, size, covers_.data() + emission.covers.begin, emission.covers.size());
  } else if (emission.one.bit != 0) {
    cover(v, size, emission.one);
  }
}

void Placed::apply_transposed(std::uint32_t e, double* u, std::size_t size) const {
  const PlacedEmission& emission = emissions_[e];
  if (!emission.one_bit) {
    cover_transposed(u, size, covers_.data() + emission.covers.begin, emission.covers.size());
  } else if (emission.one.bit != 0) {
    cover_transposed(u, size, emission.one);
  }
}

void Placed::apply(const State& state, double* v, std::size_t size) const {
  for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) apply(e, v, size);
}

void Placed::apply_transposed(const State& state, double* u, std::size_t size) const {
  for (std::uint32_t e = state.emissions.end; e-- > state.emissions.begin;) {
    apply_transposed(e, u, size);
  }
}

/// The usual emission goes from one vector into another without a copy first, and the last one
/// straight onto the sum.
void Placed::add_applied(const State& state, double weight, const double* v, double* scratch,
                         std::size_t size, double* sum) const {
  const auto in_one_go = [&](std::uint32_t e) {
    return emissions_[e].one_bit && emissions_[e].one.bit != 0;
  };
  const std::uint32_t begin = state.emissions.begin, last = state.emissions.end - 1;
  const double* from = v;
  for (std::uint32_t e = begin; e < last; ++e) {
    if (from == v && in_one_go(e)) {
      cover_into(scratch, v, size, emissions_[e].one);
    } else {
      if (from == v) std::copy_n(v, size, scratch);
      apply(e, scratch, size);
    }
    from = scratch;
  }
  if (in_one_go(last)) return add_cover(sum, from, size, emissions_[last].one, weight);
  if (from == v) std::copy_n(v, size, scratch);
  apply(last, scratch, size);
  add_scaled(sum, scratch, size, weight);
}

void Placed::apply_transposed(const State& state, const double* u, double* out,
                              std::size_t size) const {
  std::uint32_t e = state.emissions.end;
  const PlacedEmission& first = emissions_[--e];
  if (first.one_bit && first.one.bit != 0) {
    cover_transposed_into(out, u, size, first.one);
  } else {
    std::copy_n(u, size, out);
    apply_transposed(e, out, size);
  }
  while (e-- > state.emissions.begin) apply_transposed(e, out, size);
}

void open_bits(const Step& step, double* v) {
  if (step.size_after > step.size) std::fill(v + step.size, v + step.size_after, 0.0);
}

void close_bits(const Problem& problem, const Schedule& schedule, const Step& step, double* v) {
  const Group& group = problem.groups[step.index];
  const std::size_t all = index_of(group, schedule, group.table.size() - 1);
  if (group.bits.size() == 1) {
    return close(v, step.size, static_cast<std::uint32_t>(all), group.table[0], group.table[1]);
  }
  each_without(step.size, all, [&](std::size_t t) {
    double sum = 0;
    for (std::size_t c = 0; c < group.table.size(); ++c) {
      const std::size_t at = t | index_of(group, schedule, c);
      sum += group.table[c] * v[at];
      v[at] = 0;
    }
    v[t] = sum;
  });
}

void close_bits_transposed(const Problem& problem, const Schedule& schedule, const Step& step,
                           double* u) {
  const Group& group = problem.groups[step.index];
  const std::size_t all = index_of(group, schedule, group.table.size() - 1);
  if (step.size > step.size_after) std::fill(u + step.size_after, u + step.size, 0.0);
  if (group.bits.size() == 1) {
    const auto bit = static_cast<std::uint32_t>(all);
    return close_transposed(u, step.size, bit, group.table[0], group.table[1]);
  }
  each_without(step.size, all, [&](std::size_t t) {
    const double kept = u[t];
    for (std::size_t c = 0; c < group.table.size(); ++c) {
      u[t | index_of(group, schedule, c)] = group.table[c] * kept;
    }
  });
}

}  // namespace tickover::belief
