/// @file
/// Random small packs with checks that err and repairs that fail.
#include "tests/support/optimum.hpp"
#include "tests/support/random_small.hpp"

namespace tickover::test {
namespace {

/// From `least` on, `most` included.
std::size_t up_to(Random& random, std::size_t least, std::size_t most) {
  return most <= least ? most : least + random.below(most - least + 1);
}

void add_layers(Random& random, std::size_t count, SmallPack& small) {
  for (std::size_t i = 0; i < count; ++i) {
    SmallPack::Layer layer{whole_minutes(random, 1, 25), whole_minutes(random, 1, 35)};
    if (i > 0 && random.chance(0.7)) layer.behind = {random.below(i)};
    layer.runs_open = random.chance(0.2);
    small.layer(layer);
  }
}

void add_repairs(Random& random, std::size_t count, SmallPack& small) {
  const std::size_t causes = small.pack.causes.size();
  for (std::size_t i = 0; i < count; ++i) {
    const auto success = [&] { return random.chance(0.4) ? 1 : random.between(0.6, 1); };
    SmallPack::Repair repair;
    repair.removes = {{i % causes, success()}};
    const std::size_t other = random.below(causes);
    if (random.chance(0.3) && other != i % causes) repair.removes.push_back({other, success()});
    repair.minutes = {whole_minutes(random, 0, 10), whole_minutes(random, 1, 60)};
    repair.open = random_access(random, small);
    small.repair(repair);
  }
}

void add_look(Random& random, SmallPack& small) {
  small.look({random.below(small.pack.causes.size()),
              random.between(0.6, 1),
              random.chance(0.5) ? 0 : random.between(0, 0.15),
              {whole_minutes(random, 0, 5), whole_minutes(random, 1, 10)},
              random_access(random, small)});
}

/// What the engine does when something is tried, by some of the causes.
void add_response(Random& random, SmallPack& small) {
  pack::Finding finding;
  finding.id = "response-" + std::to_string(small.pack.findings.size());
  finding.name = finding.id;
  finding.kind = pack::Kind::response;
  finding.levels = {"no", "yes"};
  finding.leak = {number(random.between(0, 0.15))};
  for (std::size_t cause = 0; cause < small.pack.causes.size(); ++cause) {
    if (random.chance(0.6)) continue;
    finding.links.push_back({cause, {number(random.between(0.4, 1))}, "", pack::Direction::low, 0});
  }
  pack::Check check;
  check.id = finding.id;
  check.name = finding.id;
  check.finding = small.pack.findings.size();
  check.minutes = {whole_minutes(random, 0, 3), whole_minutes(random, 1, 12)};
  check.running = random.chance(0.7);
  if (!check.running) check.open = random_access(random, small);
  small.pack.findings.push_back(finding);
  small.pack.checks.push_back(check);
}

}  // namespace

SmallPack random_decision(Random& random, const DecisionShape& shape) {
  SmallPack small(whole_minutes(random, 0, 30), whole_minutes(random, 100, 1500));
  const std::size_t causes = up_to(random, 2, shape.causes);
  for (std::size_t i = 0; i < causes; ++i) small.cause(random.between(0.01, 0.35));
  add_layers(random, up_to(random, 2, shape.layers), small);
  add_symptoms(random, small);
  add_repairs(random, up_to(random, 2, shape.repairs), small);
  const std::size_t looks = up_to(random, 0, shape.looks);
  for (std::size_t i = 0; i < looks; ++i) add_look(random, small);
  const std::size_t responses = up_to(random, looks == 0 ? 1 : 0, shape.responses);
  for (std::size_t i = 0; i < responses; ++i) add_response(random, small);
  return small;
}

JobWriter random_complaint(Random& random, const SmallPack& small) {
  JobWriter job(plain_sheet());
  job.record("symptom-0", "yes");
  if (random.chance(0.4)) job.record("symptom-1", "no");
  if (random.chance(0.2)) job.strip({small.pack.layers.front().id});
  return job;
}

}  // namespace tickover::test
