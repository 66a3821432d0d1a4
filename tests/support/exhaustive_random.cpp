/// @file
/// Random small packs for courses that are to be tried exhaustively.
#include "tests/support/exhaustive.hpp"
#include "tests/support/random_small.hpp"

namespace tickover::test {
namespace {

void add_layers(Random& random, const SmallShape& shape, SmallPack& small) {
  for (std::size_t i = 0; i < shape.layers; ++i) {
    SmallPack::Layer layer{whole_minutes(random, 1, 25), whole_minutes(random, 1, 35)};
    if (i > 0 && random.chance(0.7)) layer.behind = {random.below(i)};
    small.layer(layer);
  }
}

/// Each cause has a repair while they last; some repairs take a second cause along.
void add_repairs(Random& random, const SmallShape& shape, SmallPack& small) {
  const std::size_t causes = small.pack.causes.size();
  for (std::size_t i = 0; i < shape.repairs; ++i) {
    SmallPack::Repair repair;
    repair.removes = {{i % causes, random.between(0.6, 1)}};
    const std::size_t other = random.below(causes);
    if (random.chance(0.3) && other != i % causes) repair.removes.push_back({other, 0.8});
    repair.minutes = {whole_minutes(random, 0, 10), whole_minutes(random, 1, 60)};
    repair.open = random_access(random, small);
    small.repair(repair);
  }
}

void add_looks(Random& random, const SmallShape& shape, SmallPack& small) {
  for (std::size_t cause = 0; cause < std::min(shape.looks, small.pack.causes.size()); ++cause) {
    small.look({cause,
                random.between(0.6, 1),
                random.chance(0.5) ? 0 : random.between(0, 0.15),
                {whole_minutes(random, 0, 5), whole_minutes(random, 1, 10)},
                random_access(random, small)});
  }
}

}  // namespace

SmallPack random_small_pack(Random& random, const SmallShape& shape) {
  SmallPack small(whole_minutes(random, 0, 30), whole_minutes(random, 100, 1500));
  const std::size_t causes = 2 + random.below(shape.causes - 1);
  for (std::size_t i = 0; i < causes; ++i) small.cause(random.between(0.01, 0.35));
  add_layers(random, shape, small);
  add_symptoms(random, small);
  add_repairs(random, shape, small);
  add_looks(random, shape, small);
  return small;
}

}  // namespace tickover::test
