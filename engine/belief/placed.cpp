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
  const std::size_t count = problem.emissions.size();
  if (ones_.size() < count) ones_.resize(count);
  if (covers_of_.size() < count) covers_of_.resize(count);
  covers_.clear();
  const auto slot_of = [&](std::uint32_t first, std::uint64_t mask) {
    const std::uint32_t bit = first + static_cast<std::uint32_t>(std::countr_zero(mask));
    return std::uint32_t{1} << schedule.slot[bit];
  };
  for (std::size_t e = 0; e < count; ++e) {
    const Emission& emission = problem.emissions[e];
    const std::uint32_t first = problem.bits[emission.finding].begin;
    if (emission.touched != 0 && emission.one_bit()) {
      ones_[e] = {emission.silent, emission.speaks, slot_of(first, emission.touched)};
      continue;
    }
    ones_[e] = {1, 0, 0};
    covers_of_[e].begin = static_cast<std::uint32_t>(covers_.size());
    if (emission.touched != 0) {
      each_alternative(problem, emission, [&](const Alternative& way) {
        std::uint32_t mask = 0;
        for (std::uint64_t bits = way.mask; bits != 0; bits &= bits - 1) {
          mask |= slot_of(first, bits);
        }
        covers_.push_back({way.weight, mask});
      });
    }
    covers_of_[e].end = static_cast<std::uint32_t>(covers_.size());
  }
}

void Placed::apply(std::uint32_t e, double* v, std::size_t size) const {
  if (ones_[e].bit != 0) return cover(v, size, ones_[e]);
  const Range& range = covers_of_[e];
  if (range.size() > 0) cover(v, size, covers_.data() + range.begin, range.size());
}

void Placed::apply_transposed(std::uint32_t e, double* u, std::size_t size) const {
  if (ones_[e].bit != 0) return cover_transposed(u, size, ones_[e]);
  const Range& range = covers_of_[e];
  if (range.size() > 0) cover_transposed(u, size, covers_.data() + range.begin, range.size());
}

void Placed::apply(const State& state, double* v, std::size_t size) const {
  for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) apply(e, v, size);
}

void Placed::apply_transposed(const State& state, double* u, std::size_t size) const {
  for (std::uint32_t e = state.emissions.end; e-- > state.emissions.begin;) {
    apply_transposed(e, u, size);
  }
}

/// The usual state: it has emissions, and each touches a bit.
bool Placed::touch_one_bit_each(const State& state) const {
  for (std::uint32_t e = state.emissions.begin; e < state.emissions.end; ++e) {
    if (ones_[e].bit == 0) return false;
  }
  return state.emissions.size() > 0;
}

void Placed::apply(const State& state, const double* v, double* out, std::size_t size) const {
  const std::uint32_t begin = state.emissions.begin;
  if (touch_one_bit_each(state)) {
    return cover_all(out, v, size, ones_.data() + begin, state.emissions.size());
  }
  std::copy_n(v, size, out);
  apply(state, out, size);
}

void Placed::apply_transposed(const State& state, const double* u, double* out,
                              std::size_t size) const {
  const std::uint32_t begin = state.emissions.begin;
  if (touch_one_bit_each(state)) {
    return cover_all_transposed(out, u, size, ones_.data() + begin, state.emissions.size());
  }
  std::copy_n(u, size, out);
  apply_transposed(state, out, size);
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
