#include "tests/support/random_small.hpp"

#include <cmath>

namespace tickover::test {

double whole_minutes(Random& random, double least, double most) {
  return std::floor(random.between(least, most + 1));
}

std::vector<std::size_t> random_access(Random& random, const SmallPack& small) {
  if (small.pack.layers.empty() || random.chance(0.25)) return {};
  return {random.below(small.pack.layers.size())};
}

void add_symptoms(Random& random, SmallPack& small) {
  for (std::size_t i = 0; i < 2; ++i) {
    std::vector<SmallPack::Link> links;
    for (std::size_t cause = 0; cause < small.pack.causes.size(); ++cause) {
      if (i > 0 && random.chance(0.5)) continue;
      links.push_back({cause, random.between(0.3, 1)});
    }
    small.symptom(random.between(0, 0.05), links);
  }
}

}  // namespace tickover::test
