#include <algorithm>

#include "engine/belief/problem.hpp"

/// The tables of sensors over accumulator bits.
namespace tickover::belief {
namespace {

bool share_a_bit(const Group& a, const Group& b) {
  return std::any_of(a.bits.begin(), a.bits.end(), [&](std::uint32_t bit) {
    return std::find(b.bits.begin(), b.bits.end(), bit) != b.bits.end();
  });
}

/// Index into `group.table` of the combination that has the bits set which `combination` of the
/// bits of `wide` has.
std::size_t project(std::size_t combination, const Group& wide, const Group& group) {
  const auto& bits = wide.bits;
  std::size_t index = 0;
  for (std::size_t i = 0; i < group.bits.size(); ++i) {
    const auto at = std::find(bits.begin(), bits.end(), group.bits[i]) - bits.begin();
    if (combination >> at & 1) index |= std::size_t{1} << i;
  }
  return index;
}

Group product(const Group& a, const Group& b) {
  Group both{a.bits, {}};
  for (const std::uint32_t bit : b.bits) {
    if (std::find(a.bits.begin(), a.bits.end(), bit) == a.bits.end()) both.bits.push_back(bit);
  }
  both.table.resize(std::size_t{1} << both.bits.size());
  for (std::size_t c = 0; c < both.table.size(); ++c) {
    both.table[c] = a.table[project(c, both, a)] * b.table[project(c, both, b)];
  }
  return both;
}

}  // namespace

/// A sensor's table over its bits. Sensors that share a bit become one group with the product of
/// their tables, since a bit is closed only once.
void Compiler::add_soft_group(const SoftBits& sensed) {
  const std::vector<double>& likelihood = sensed.soft->likelihood;
  Group group{{}, {likelihood.begin(), likelihood.end()}};
  for (std::size_t i = 0; i < sensed.bits.size(); ++i) {
    group.bits.push_back(out_->bits[sensed.soft->findings[i]].begin + sensed.bits[i]);
  }
  for (std::size_t g = out_->groups.size(); g-- > 0;) {
    if (!share_a_bit(out_->groups[g], group)) continue;
    group = product(out_->groups[g], group);
    out_->groups.erase(out_->groups.begin() + static_cast<std::ptrdiff_t>(g));
  }
  out_->groups.push_back(std::move(group));
}

}  // namespace tickover::belief
