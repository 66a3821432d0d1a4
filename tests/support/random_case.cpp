#include "tests/support/random_case.hpp"

#include <algorithm>
#include <set>

namespace tickover::test {
namespace {

using namespace belief;

/// Upper limits for one case.
struct Shape {
  std::size_t causes;
  std::size_t findings;
  Epoch now;
  double link_chance;
};

Shape random_shape(Random& random) {
  const double link_chance = random.between(0.15, 0.9);
  if (random.chance(0.5)) return {1 + random.below(12), 1 + random.below(10), 0, link_chance};
  return {1 + random.below(7), 1 + random.below(5), 1 + random.below(3), link_chance};
}

double random_prior(Random& random) {
  const double kind = random.unit();
  if (kind < 0.03) return 0;
  if (kind < 0.05) return 1;
  return kind < 0.3 ? random.between(0, 0.01) : random.between(0.01, 0.6);
}

/// One entry per level. Multiples of 1/4096, so that sums of 1 are met exactly in any precision.
std::vector<double> random_strength(Random& random, std::size_t levels) {
  std::vector<double> strength(levels, 0);
  const double kind = random.unit();
  if (kind < 0.06) return strength;
  std::size_t left = kind < 0.12 ? 4096 : 1 + random.below(4096);
  for (std::size_t i = 0; i + 1 < levels; ++i) {
    const std::size_t part = random.below(left + 1);
    strength[i] = static_cast<double>(part) / 4096;
    left -= part;
  }
  strength.back() = static_cast<double>(left) / 4096;
  return strength;
}

std::vector<double> random_leak(Random& random, std::size_t levels) {
  const double kind = random.unit();
  const double most = kind < 0.15 ? 0 : kind < 0.5 ? 1e-4 : random.between(0, 0.2);
  std::vector<double> leak(levels, most);
  for (std::size_t i = 1; i < levels; ++i) leak[i] = most * random.unit();
  return leak;
}

Finding random_finding(Random& random, const Shape& shape) {
  const std::size_t levels = random.chance(0.7) ? 1 : 2 + random.below(2);
  Finding finding{random_leak(random, levels), {}};
  for (std::size_t cause = 0; cause < shape.causes; ++cause) {
    if (!random.chance(shape.link_chance)) continue;
    finding.links.push_back({cause, random_strength(random, levels)});
  }
  random.shuffle(finding.links);
  return finding;
}

Network random_network(Random& random, const Shape& shape) {
  Network network;
  for (std::size_t i = 0; i < shape.causes; ++i) {
    const double disturbed = random.chance(0.2) ? 0 : random.between(0, 0.4);
    network.causes.push_back({random_prior(random), disturbed});
  }
  for (std::size_t i = 0; i < shape.findings; ++i) {
    network.findings.push_back(random_finding(random, shape));
  }
  return network;
}

/// One or two causes repaired at the start of each later epoch; findings may open a window there.
void add_repairs(Random& random, Case& c) {
  for (Epoch epoch = 1; epoch <= c.now; ++epoch) {
    for (std::size_t i = random.below(3); i > 0; --i) {
      const double success = random.chance(0.6) ? 1 : random.between(0, 1);
      c.removals.push_back({random.below(c.network->causes.size()), epoch, success, 0});
    }
    for (std::size_t finding = 0; finding < c.network->findings.size(); ++finding) {
      if (random.chance(0.2)) c.windows.push_back({finding, epoch});
      if (c.fade > 0 && random.chance(0.4)) c.fades.push_back({finding, epoch});
    }
  }
}

/// Where a window is open, the finding is looked at on both sides of it more often than elsewhere.
double look_chance(const Case& c, std::size_t finding, Epoch epoch) {
  for (const Window& window : c.windows) {
    const bool near = window.epoch == epoch || window.epoch == epoch + 1;
    if (window.finding == finding && near) return 0.9;
  }
  return c.now == 0 ? 0.75 : 0.5;
}

void add_levels(Random& random, const World& world, Case& c) {
  for (std::size_t finding = 0; finding < c.network->findings.size(); ++finding) {
    for (Epoch epoch = 0; epoch <= c.now; ++epoch) {
      if (!random.chance(look_chance(c, finding, epoch))) continue;
      c.levels.push_back({finding, epoch, world.level[finding][epoch], c.levels.size() + 1});
      if (random.chance(0.05)) c.levels.push_back(c.levels.back());
    }
  }
  random.shuffle(c.levels);
}

/// Likelihoods of a sensor; a sharp one tells the state `shown` from all others.
std::vector<double> random_likelihood(Random& random, std::size_t states, std::size_t shown) {
  const bool sharp = random.chance(0.15);
  const double scale = random.between(0.5, 8);  // densities need not sum to 1
  std::vector<double> likelihood;
  for (std::size_t state = 0; state < states; ++state) {
    likelihood.push_back(sharp ? (state == shown ? scale : 0) : scale * random.unit());
  }
  return likelihood;
}

void add_soft(Random& random, const World& world, Case& c) {
  std::vector<std::size_t> binary;
  for (std::size_t finding = 0; finding < c.network->findings.size(); ++finding) {
    if (c.network->findings[finding].leak.size() == 1) binary.push_back(finding);
  }
  for (std::size_t i = binary.empty() ? 0 : random.below(4); i > 0; --i) {
    random.shuffle(binary);
    const std::size_t count = std::min<std::size_t>(1 + random.below(2), binary.size());
    SoftObservation soft{{}, random.below(c.now + 1), {}, 100 + i};
    std::size_t shown = 0;
    for (std::size_t bit = 0; bit < count; ++bit) {
      soft.findings.push_back(binary[bit]);
      shown |= world.level[binary[bit]][soft.epoch] << bit;
    }
    soft.likelihood = random_likelihood(random, std::size_t{1} << count, shown);
    c.soft.push_back(soft);
  }
}

void add_seen(Random& random, const World& world, Case& c) {
  for (std::size_t cause = 0; cause < c.network->causes.size(); ++cause) {
    if (!random.chance(0.2)) continue;
    const Epoch epoch = random.below(c.now + 1);
    CauseObservation seen{cause, epoch, random.unit(), random.unit(), 200 + cause};
    const bool present = world.lives[cause].in(epoch);
    if (random.chance(0.3)) (present ? seen.absent : seen.present) = 0;
    c.seen.push_back(seen);
  }
}

/// Says something else of one finding, in place of the truth or beside it.
void spoil(Random& random, Case& c) {
  if (c.levels.empty()) return;
  LevelObservation& seen = c.levels[random.below(c.levels.size())];
  const std::size_t count = c.network->findings[seen.finding].leak.size() + 1;
  LevelObservation other = seen;
  other.level = random.below(count);
  if (random.chance(0.5)) {
    seen = other;
  } else {
    c.levels.push_back(other);
  }
}

Case candidate(Random& random) {
  const Shape shape = random_shape(random);
  Case c;
  c.now = shape.now;
  if (random.chance(0.4)) c.fade = random.between(0, 0.3);
  c.network = random_network(random, shape);
  add_repairs(random, c);
  const World world = simulate(random, c);
  add_levels(random, world, c);
  add_soft(random, world, c);
  add_seen(random, world, c);
  if (random.chance(0.08)) spoil(random, c);
  return c;
}

bool opens(const Case& given, const std::vector<Window>& windows, std::size_t cause, Epoch epoch) {
  for (const Window& window : windows) {
    if (window.epoch != epoch) continue;
    for (const Link& link : given.network->findings[window.finding].links) {
      if (link.cause == cause) return true;
    }
  }
  return false;
}

/// Repairs come first at the start of an epoch; what they disturb arises after them.
Life draw_life(Random& random, const Case& given, std::size_t cause) {
  const Cause& c = given.network->causes[cause];
  Life life{0, random.chance(c.prior) ? kForever : 0};
  for (Epoch epoch = 1; epoch <= given.now; ++epoch) {
    for (const Removal& removal : given.removals) {
      if (removal.cause != cause || removal.epoch != epoch || !life.in(epoch)) continue;
      if (random.chance(removal.success)) life.end = epoch;
    }
    const bool fading = life.in(epoch) && opens(given, given.fades, cause, epoch);
    if (fading && random.chance(given.fade)) life.end = epoch;
    const bool never = life.end == 0;
    if (never && opens(given, given.windows, cause, epoch) && random.chance(c.disturbed))
      life = {epoch, kForever};
  }
  return life;
}

std::size_t draw_level(Random& random, const std::vector<double>& strength) {
  double left = random.unit();
  for (std::size_t i = 0; i < strength.size(); ++i) {
    if (left < strength[i]) return i + 1;
    left -= strength[i];
  }
  return 0;
}

/// A leak ends where it fades.
Life draw_leak(Random& random, const Case& given, std::size_t finding, Epoch begin) {
  std::set<Epoch> fading;
  for (const Window& window : given.fades) {
    if (window.finding == finding && window.epoch > begin) fading.insert(window.epoch);
  }
  for (const Epoch epoch : fading) {
    if (random.chance(given.fade)) return {begin, epoch};
  }
  return {begin, kForever};
}

void produce(Random& random, const std::vector<double>& strength, const Life& life,
             std::vector<std::size_t>& course) {
  const std::size_t level = draw_level(random, strength);
  for (Epoch epoch = 0; epoch < course.size(); ++epoch) {
    if (life.in(epoch)) course[epoch] = std::max(course[epoch], level);
  }
}

}  // namespace

Case random_case(std::uint64_t seed) {
  Random random(seed);
  Case c = candidate(random);
  while (combinations(c) > 5000) c = candidate(random);
  return c;
}

Case wide_case(Random& random, std::size_t present) {
  constexpr std::size_t kCauses = 10;
  Case c;
  for (std::size_t i = 0; i < kCauses; ++i) c.network.own().causes.push_back({random.unit(), 0});
  for (std::size_t i = 0; i < present; ++i) {
    Finding finding{{random.between(0, 0.01)}, {}};
    for (std::size_t cause = 0; cause < kCauses; ++cause) {
      finding.links.push_back({cause, {random.between(0.01, 0.99)}});
    }
    c.network.own().findings.push_back(finding);
    c.levels.push_back({i, 0, 1, i});
  }
  return c;
}

double combinations(const Case& given) {
  double product = 1;
  for (std::size_t cause = 0; cause < given.network->causes.size(); ++cause) {
    product *= static_cast<double>(lives(given, cause).size());
  }
  return product;
}

Repair random_repair(Random& random, const Case& given) {
  Repair repair;
  for (std::size_t finding = 0; finding < given.network->findings.size(); ++finding) {
    if (random.chance(0.5)) repair.findings.push_back(finding);
  }
  for (std::size_t cause = 0; cause < given.network->causes.size(); ++cause) {
    const double success = random.chance(0.5) ? 1 : random.unit();
    if (random.chance(0.3)) repair.removals.push_back({cause, 0, success, 0});
  }
  return repair;
}

World simulate(Random& random, const Case& given) {
  World world;
  for (std::size_t cause = 0; cause < given.network->causes.size(); ++cause) {
    world.lives.push_back(draw_life(random, given, cause));
  }
  for (std::size_t f = 0; f < given.network->findings.size(); ++f) {
    const Finding& finding = given.network->findings[f];
    std::vector<std::size_t> course(given.now + 1, 0);
    produce(random, finding.leak, draw_leak(random, given, f, 0), course);
    for (const Window& window : given.windows) {
      if (window.finding != f) continue;
      produce(random, finding.leak, draw_leak(random, given, f, window.epoch), course);
    }
    for (const Link& link : finding.links) {
      produce(random, link.strength, world.lives[link.cause], course);
    }
    world.level.push_back(course);
  }
  return world;
}

}  // namespace tickover::test
