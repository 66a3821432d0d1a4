#include "tests/support/synthetic.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tickover::test {
namespace {

using namespace belief;

/// Log-uniform: a pack's numbers spread over decades.
double spread(Random& random, double low, double high) {
  return low * std::pow(high / low, random.unit());
}

double chance_of_link(Links links, bool to_engine) {
  if (links == Links::dense) return 1;
  return to_engine ? 0.27 : 0.4;  // of the shipped pack: symptoms of the engine, of a cylinder
}

/// A finding's links to causes of one kind each; not to those of other cylinders.
struct Kind {
  double leak = 0;
  std::vector<double> of_engine, of_cylinder;  ///< strengths; 0 is no link
};

Kind random_kind(Random& random, const SyntheticShape& shape, bool of_engine) {
  Kind kind{spread(random, 1e-4, 1e-2), {}, {}};
  const double crossing =
      shape.links == Links::crossing ? 1.0 / static_cast<double>(shape.causes_of_engine) : 0;
  const double near = chance_of_link(shape.links, of_engine);
  const auto strength = [&](double chance) {
    return random.chance(chance) ? random.between(0.05, 0.95) : 0;
  };
  for (std::size_t c = 0; c < shape.causes_of_engine; ++c) {
    kind.of_engine.push_back(strength(of_engine ? near : crossing));
  }
  for (std::size_t c = 0; c < shape.causes_of_cylinder; ++c) {
    kind.of_cylinder.push_back(strength(near));
  }
  return kind;
}

void add_links(const std::vector<double>& strengths, std::size_t first_cause, Finding& finding) {
  for (std::size_t c = 0; c < strengths.size(); ++c) {
    if (strengths[c] > 0) finding.links.push_back({first_cause + c, {strengths[c]}});
  }
}

/// `count` of the numbers [begin, end) that are not yet taken, by chance.
std::vector<std::size_t> choose(Random& random, std::size_t begin, std::size_t end,
                                std::size_t count) {
  std::vector<std::size_t> all(end - begin);
  std::iota(all.begin(), all.end(), begin);
  random.shuffle(all);
  all.resize(std::min(count, all.size()));
  return all;
}

}  // namespace

Network synthetic_network(Random& random, const SyntheticShape& shape) {
  Network network;
  for (std::size_t c = 0; c < shape.causes_of_engine; ++c) {
    network.causes.push_back({spread(random, 1e-3, 5e-2), 0});
  }
  std::vector<double> priors;
  for (std::size_t c = 0; c < shape.causes_of_cylinder; ++c) {
    priors.push_back(spread(random, 1e-3, 5e-2));
  }
  const auto first_cause = [&](std::size_t cylinder) {
    return shape.causes_of_engine + cylinder * shape.causes_of_cylinder;
  };
  for (std::size_t cylinder = 0; cylinder < shape.cylinders; ++cylinder) {
    for (const double prior : priors) network.causes.push_back({prior, 0});
  }
  for (std::size_t f = 0; f < shape.findings_of_engine; ++f) {
    const Kind kind = random_kind(random, shape, true);
    network.findings.push_back({{kind.leak}, {}});
    add_links(kind.of_engine, 0, network.findings.back());
    for (std::size_t cylinder = 0; cylinder < shape.cylinders; ++cylinder) {
      add_links(kind.of_cylinder, first_cause(cylinder), network.findings.back());
    }
  }
  std::vector<Kind> kinds;
  for (std::size_t f = 0; f < shape.findings_of_cylinder; ++f) {
    kinds.push_back(random_kind(random, shape, false));
  }
  for (std::size_t cylinder = 0; cylinder < shape.cylinders; ++cylinder) {
    for (const Kind& kind : kinds) {
      network.findings.push_back({{kind.leak}, {}});
      add_links(kind.of_engine, 0, network.findings.back());
      add_links(kind.of_cylinder, first_cause(cylinder), network.findings.back());
    }
  }
  return network;
}

Case synthetic_case(std::uint64_t seed, const SyntheticShape& shape,
                    const SyntheticEvidence& evidence) {
  Random random(seed);
  Case given;
  given.network = synthetic_network(random, shape);
  std::vector<bool> seen(shape.findings(), false);
  const auto see = [&](const std::vector<std::size_t>& findings, std::size_t level) {
    for (const std::size_t f : findings) {
      seen[f] = true;
      given.levels.push_back({f, 0, level, given.levels.size() + 1});
    }
  };
  see(choose(random, 0, shape.findings_of_engine, evidence.present_of_engine), 1);
  for (std::size_t cylinder = 0; cylinder < shape.cylinders; ++cylinder) {
    const std::size_t first = shape.findings_of_engine + cylinder * shape.findings_of_cylinder;
    see(choose(random, first, first + shape.findings_of_cylinder, evidence.present_of_cylinder), 1);
  }
  std::vector<std::size_t> rest = choose(random, 0, shape.findings(), shape.findings());
  std::erase_if(rest, [&](std::size_t f) { return seen[f]; });
  rest.resize(std::min(evidence.absent, rest.size()));
  see(rest, 0);
  return given;
}

Case sampled_case(Random& random, const Network& network, std::size_t seen) {
  Case given;
  given.network = network;
  const World world = simulate(random, given);
  for (const std::size_t f : choose(random, 0, network.findings.size(), seen)) {
    given.levels.push_back({f, 0, world.level[f][0], f + 1});
  }
  return given;
}

std::size_t present_in(const Case& given) {
  return static_cast<std::size_t>(
      std::count_if(given.levels.begin(), given.levels.end(),
                    [](const LevelObservation& seen) { return seen.level > 0; }));
}

}  // namespace tickover::test
