#include <algorithm>
#include <set>

#include "engine/belief/all_lives.hpp"
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

bool linked(const Case& given, const Window& window, std::size_t cause) {
  const std::vector<Link>& links = given.network->findings[window.finding].links;
  return std::any_of(links.begin(), links.end(),
                     [&](const Link& link) { return link.cause == cause; });
}

/// Epochs of those windows for which `counts` holds.
template <class Counts>
std::set<Epoch> epochs_of(const std::vector<Window>& windows, const Counts& counts) {
  std::set<Epoch> epochs;
  for (const Window& window : windows) {
    if (counts(window)) epochs.insert(window.epoch);
  }
  return epochs;
}

/// Per epoch from 0 to now, with fading at those epochs.
std::vector<Turn> turns(const Case& given, const std::set<Epoch>& fading) {
  std::vector<Turn> all(given.now + 1);
  for (const Epoch epoch : fading) {
    if (epoch <= given.now) all[epoch].add(given.fade);
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

}  // namespace

namespace {

void append_lives(const Case& given, std::size_t cause, std::vector<LifeChance>& out) {
  const Cause& c = given.network->causes[cause];
  if (given.now == 0) {
    out.push_back({{0, 0}, 1 - c.prior});
    if (c.prior > 0) out.push_back({{0, kForever}, c.prior});
    return;
  }
  const auto its_own = [&](const Window& window) { return linked(given, window, cause); };
  std::vector<Turn> all_turns = turns(given, epochs_of(given.fades, its_own));
  for (const Removal& removal : given.removals) {
    if (removal.cause == cause && removal.epoch <= given.now) {
      all_turns[removal.epoch].add(removal.success);
    }
  }
  const std::size_t first = out.size();
  out.push_back({{0, 0}, 0});
  add_lives(all_turns, 0, c.prior, out);
  double never = 1 - c.prior;
  for (const Epoch epoch : epochs_of(given.windows, its_own)) {
    add_lives(all_turns, epoch, never * c.disturbed, out);
    never *= 1 - c.disturbed;
  }
  out[first].probability = never;
}

}  // namespace

std::vector<LifeChance> lives(const Case& given, std::size_t cause) {
  std::vector<LifeChance> all;
  append_lives(given, cause, all);
  return all;
}

bool AllLives::same_history(const Case& given) const {
  return !changes_by_itself_ && given.windows.empty() && given.fades.empty() && now_ == given.now &&
         removals_ == given.removals && causes_ == given.network->causes;
}

void AllLives::take(const Case& given) {
  if (same_history(given)) return;
  causes_ = given.network->causes;
  removals_ = given.removals;
  now_ = given.now;
  changes_by_itself_ = !given.windows.empty() || !given.fades.empty();
  all_.clear();
  begins_.assign(1, 0);
  for (std::size_t cause = 0; cause < causes_.size(); ++cause) {
    append_lives(given, cause, all_);
    begins_.push_back(all_.size());
  }
}

std::vector<LifeChance> lives_of_leak(const Case& given, std::size_t finding, Epoch begin) {
  const auto its_own = [&](const Window& window) { return window.finding == finding; };
  std::vector<LifeChance> all;
  add_lives(turns(given, epochs_of(given.fades, its_own)), begin, 1, all);
  return all;
}

}  // namespace tickover::belief
