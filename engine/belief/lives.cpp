#include <algorithm>
#include <set>

#include "engine/belief/network.hpp"

namespace tickover::belief {
namespace {

/// At the start of an epoch: P(what is present ends), P(it stays).
struct Turn {
  double ends = 0, stays = 1;
  void add(double chance) {
    ends += stays * chance;
    stays *= 1 - chance;
  }
};

/// Per epoch from 0 to now.
std::vector<Turn> turns(const Case& given) {
  std::vector<Turn> all(given.now + 1);
  for (Turn& turn : all) turn.add(given.fade);
  return all;
}

std::vector<Turn> turns(const Case& given, std::size_t cause) {
  std::vector<Turn> all = turns(given);
  for (const Removal& removal : given.removals) {
    if (removal.cause == cause && removal.epoch <= given.now) {
      all[removal.epoch].add(removal.success);
    }
  }
  return all;
}

/// Splits the chance of a life that begins at `begin` by where it ends.
void add_lives(const std::vector<Turn>& turns, Epoch begin, double chance,
               std::vector<LifeChance>& out) {
  for (Epoch epoch = begin + 1; epoch < turns.size(); ++epoch) {
    if (turns[epoch].ends > 0) out.push_back({{begin, epoch}, chance * turns[epoch].ends});
    chance *= turns[epoch].stays;
  }
  if (chance > 0) out.push_back({{begin, kForever}, chance});
}

/// Epochs at which the cause may newly arise: open windows of findings it is linked to.
std::set<Epoch> windows_of(const Case& given, std::size_t cause) {
  std::set<Epoch> epochs;
  for (const Window& window : given.windows) {
    const std::vector<Link>& links = given.network.findings[window.finding].links;
    const bool linked = std::any_of(links.begin(), links.end(),
                                    [&](const Link& link) { return link.cause == cause; });
    if (linked) epochs.insert(window.epoch);
  }
  return epochs;
}

}  // namespace

std::vector<LifeChance> lives(const Case& given, std::size_t cause) {
  const Cause& c = given.network.causes[cause];
  if (given.now == 0) {
    std::vector<LifeChance> two = {{{0, 0}, 1 - c.prior}, {{0, kForever}, c.prior}};
    if (!(c.prior > 0)) two.pop_back();
    return two;
  }
  const std::vector<Turn> all_turns = turns(given, cause);
  std::vector<LifeChance> all = {{{0, 0}, 0}};
  add_lives(all_turns, 0, c.prior, all);
  double never = 1 - c.prior;
  for (const Epoch epoch : windows_of(given, cause)) {
    add_lives(all_turns, epoch, never * c.disturbed, all);
    never *= 1 - c.disturbed;
  }
  all.front().probability = never;
  return all;
}

std::vector<LifeChance> lives_of_leak(const Case& given, Epoch begin) {
  std::vector<LifeChance> all;
  add_lives(turns(given), begin, 1, all);
  return all;
}

}  // namespace tickover::belief
