#include "engine/belief/cause_sets.hpp"

#include <algorithm>

namespace tickover::belief {

std::vector<CauseSet> cause_sets(const Case& given, std::size_t count,
                                 const std::vector<std::size_t>& among) {
  constexpr std::size_t kExplanations = 40;
  std::vector<CauseSet> sets;
  for (const Explanation& one : explanations(given, given.now > 0 ? kExplanations : count, among)) {
    CauseSet set{one.causes, {}, one.probability};
    for (std::size_t i = 0; i < one.causes.size(); ++i) {
      if (one.lives[i].in(given.now)) set.left.push_back(one.causes[i]);
    }
    const auto same = std::find_if(sets.begin(), sets.end(), [&](const CauseSet& other) {
      return other.causes == set.causes && other.left == set.left;
    });
    if (same == sets.end()) {
      sets.push_back(std::move(set));
    } else {
      same->probability += set.probability;
    }
  }
  std::stable_sort(sets.begin(), sets.end(), [](const CauseSet& a, const CauseSet& b) {
    return a.probability > b.probability;
  });
  sets.resize(std::min(sets.size(), count));
  return sets;
}

}  // namespace tickover::belief
