#include <algorithm>
#include <set>

#include "engine/belief/network.hpp"

namespace tickover::belief {
namespace {

/// The removals of one cause after `begin`, in order of epoch.
std::vector<Removal> removals_of(const Case& given, std::size_t cause, Epoch begin) {
  std::vector<Removal> mine;
  for (const Removal& removal : given.removals) {
    if (removal.cause == cause && removal.epoch > begin) mine.push_back(removal);
  }
  std::stable_sort(mine.begin(), mine.end(),
                   [](const Removal& a, const Removal& b) { return a.epoch < b.epoch; });
  return mine;
}

/// Two removals in one epoch end the same life.
void add_life(std::vector<LifeChance>& out, Life life, double chance) {
  if (!out.empty() && out.back().life == life) {
    out.back().probability += chance;
  } else {
    out.push_back({life, chance});
  }
}

/// Splits the chance of a life that begins at `begin` by where it ends.
void add_lives(const Case& given, std::size_t cause, Epoch begin, double chance,
               std::vector<LifeChance>& out) {
  for (const Removal& removal : removals_of(given, cause, begin)) {
    if (removal.success > 0) add_life(out, {begin, removal.epoch}, chance * removal.success);
    chance *= 1 - removal.success;
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
  if (given.removals.empty() && given.windows.empty()) {
    std::vector<LifeChance> two = {{{0, 0}, 1 - c.prior}, {{0, kForever}, c.prior}};
    if (!(c.prior > 0)) two.pop_back();
    return two;
  }
  std::vector<LifeChance> later;
  add_lives(given, cause, 0, c.prior, later);
  double never = 1 - c.prior;
  for (const Epoch epoch : windows_of(given, cause)) {
    add_lives(given, cause, epoch, never * c.disturbed, later);
    never *= 1 - c.disturbed;
  }
  std::vector<LifeChance> all = {{{0, 0}, never}};
  all.insert(all.end(), later.begin(), later.end());
  return all;
}

}  // namespace tickover::belief
