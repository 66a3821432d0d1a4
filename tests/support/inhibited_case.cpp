#include "tests/support/inhibited_case.hpp"

#include <algorithm>
#include <set>

namespace tickover::test {

using namespace belief;

Case with_inhibitors(Case given, Random& random) {
  for (Finding& finding : given.network.own().findings) {
    if (random.chance(0.4)) continue;
    std::set<std::size_t> linked;
    for (const Link& link : finding.links) linked.insert(link.cause);
    std::vector<std::size_t> free;
    for (std::size_t c = 0; c < given.network->causes.size(); ++c) {
      if (linked.count(c) == 0) free.push_back(c);
    }
    if (free.empty()) continue;
    std::vector<std::vector<std::size_t>> sets = {{}, {free.front()}, {free.back()}};
    if (free.size() > 1) sets.push_back({free.front(), free.back()});
    for (Link& link : finding.links) link.inhibitors = sets[random.below(sets.size())];
    finding.leak_inhibitors = sets[random.below(sets.size())];
  }
  std::erase_if(given.soft, [&](const SoftObservation& soft) {
    return std::any_of(soft.findings.begin(), soft.findings.end(),
                       [&](std::size_t f) { return given.network->findings[f].inhibited(); });
  });
  return given;
}

Case inhibited_case(std::uint64_t seed) {
  Random random(seed + 77);
  return with_inhibitors(random_case(seed), random);
}

}  // namespace tickover::test
