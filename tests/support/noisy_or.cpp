#include "tests/support/noisy_or.hpp"

#include "tests/support/random_case.hpp"

namespace tickover::test {

using namespace belief;

Case noisy_or(const NoisyOr& shape) {
  const auto [causes, present, links] = shape;
  Random random(causes);
  Case given;
  for (std::size_t c = 0; c < causes; ++c) {
    given.network.own().causes.push_back({random.between(0.005, 0.1), 0});
  }
  for (std::size_t f = 0; f < 2 * present; ++f) {
    Finding finding{{random.between(1e-4, 0.02)}, {}};
    std::vector<std::size_t> all(causes);
    for (std::size_t c = 0; c < causes; ++c) all[c] = c;
    random.shuffle(all);
    for (std::size_t link = 0; link < links; ++link) {
      finding.links.push_back({all[link], {random.between(0.1, 0.9)}});
    }
    given.network.own().findings.push_back(finding);
    given.levels.push_back({f, 0, f < present ? 1u : 0u, f});
  }
  return given;
}

}  // namespace tickover::test
