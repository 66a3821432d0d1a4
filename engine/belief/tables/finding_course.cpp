#include "engine/belief/tables/finding_course.hpp"

#include <algorithm>

namespace tickover::belief::tables {

FindingCourse::FindingCourse(const Case& given, std::size_t finding)
    : given_(given), finding_(finding), top_(given.network->findings[finding].leak.size()) {
  collect_lives();
  for (const LevelObservation& seen : given.levels) {
    if (seen.finding != finding) continue;
    Look& look = look_at(seen.epoch);
    look.highest = std::min(look.highest, seen.level);
    if (seen.level > 0) look.wanted = std::max(look.wanted.value_or(0), seen.level);
  }
  for (const SoftObservation& soft : given.soft) {
    if (std::count(soft.findings.begin(), soft.findings.end(), finding) == 0) continue;
    look_at(soft.epoch).sensed = true;
  }
  std::sort(looks_.begin(), looks_.end(),
            [](const Look& a, const Look& b) { return a.epoch < b.epoch; });
  for (Look& look : looks_) {
    can_be_ruled_out_ = can_be_ruled_out_ || look.highest < top_;
    if (!look.wanted && !look.sensed) continue;
    look.bit = epochs_.size();
    epochs_.push_back(look.epoch);
  }
}

void FindingCourse::collect_lives() {
  const auto add_lives = [&](const std::vector<LifeChance>& ways) {
    for (const LifeChance& way : ways) lives_.push_back(way.life);
  };
  for (const Link& link : links()) {
    add_lives(lives(given_, link.cause));
    for (const std::size_t cause : link.inhibitors) add_lives(lives(given_, cause));
  }
  for (const std::size_t cause : leak_inhibitors()) add_lives(lives(given_, cause));
  add_lives(leaks(0));
  for (const Window& window : given_.windows) {
    if (window.finding == finding_) add_lives(leaks(window.epoch));
  }
}

std::vector<LifeChance> FindingCourse::leaks(Epoch begin) const {
  return lives_of_leak(given_, finding_, begin);
}

bool FindingCourse::are_alike(Epoch a, Epoch b) const {
  return std::all_of(lives_.begin(), lives_.end(),
                     [&](const Life& life) { return life.in(a) == life.in(b); });
}

FindingCourse::Look& FindingCourse::look_at(Epoch epoch) {
  for (Look& look : looks_) {
    if (are_alike(look.epoch, epoch)) return look;
  }
  looks_.push_back({epoch, top_});
  return looks_.back();
}

Epoch FindingCourse::alike(Epoch epoch) const {
  return *std::find_if(epochs_.begin(), epochs_.end(),
                       [&](Epoch known) { return are_alike(known, epoch); });
}

bool FindingCourse::agrees(std::size_t state) const {
  if (can_be_ruled_out_ && state + 1 == states()) return false;
  return std::all_of(looks_.begin(), looks_.end(), [&](const Look& look) {
    return !look.wanted || (state >> *look.bit & 1) != 0;
  });
}

std::optional<std::size_t> FindingCourse::only_state_seen() const {
  const bool all_wanted = std::all_of(looks_.begin(), looks_.end(),
                                      [](const Look& look) { return !look.sensed || look.wanted; });
  if (!all_wanted) return std::nullopt;
  return (std::size_t{1} << epochs_.size()) - 1;
}

/// The state when something produces `level` during `life`, but not in the epochs of a life in
/// `hidden`, on top of what was there.
std::size_t FindingCourse::raised(std::size_t state, std::size_t level, const Life& life,
                                  std::span<const Life> hidden) const {
  const std::size_t ruled_out = std::size_t{1} << epochs_.size();
  for (const Look& look : looks_) {
    if (level == 0 || state == ruled_out || !life.in(look.epoch)) continue;
    if (std::any_of(hidden.begin(), hidden.end(),
                    [&](const Life& one) { return one.in(look.epoch); })) {
      continue;
    }
    if (level > look.highest) return ruled_out;
    if (look.bit && level >= look.wanted.value_or(1)) state |= std::size_t{1} << *look.bit;
  }
  return state;
}

/// A producer that lives so draws one level, once.
void FindingCourse::add(const std::vector<double>& strength, const Life& life,
                        std::span<const Life> hidden, double chance, std::size_t before,
                        std::vector<double>& states) const {
  double silent = 1;
  for (std::size_t i = 0; i < strength.size(); ++i) {
    states[raised(before, i + 1, life, hidden)] += chance * strength[i];
    silent -= strength[i];
  }
  states[before] += chance * std::max(silent, 0.0);
}

std::vector<double> FindingCourse::from_leaks(std::span<const Life> hidden) const {
  std::vector<Epoch> begins = {0};
  for (const Window& window : given_.windows) {
    if (window.finding == finding_) begins.push_back(window.epoch);
  }
  std::vector<double> chances(states(), 0);
  chances[0] = 1;
  for (const Epoch begin : begins) {
    std::vector<double> next(states(), 0);
    for (std::size_t state = 0; state < chances.size(); ++state) {
      for (const LifeChance& way : leaks(begin)) {
        add(given_.network->findings[finding_].leak, way.life, hidden,
            chances[state] * way.probability, state, next);
      }
    }
    chances = std::move(next);
  }
  return chances;
}

std::vector<double> FindingCourse::produced(const Link& link, std::span<const Life> lived,
                                            std::size_t before) const {
  std::vector<double> chances(states(), 0);
  add(link.strength, lived.front(), lived.subspan(1), 1, before, chances);
  return chances;
}

std::vector<double> FindingCourse::produced_on_leaks(const Link& link,
                                                     std::span<const Life> lived) const {
  std::vector<double> chances(states(), 0);
  const std::vector<double> leaked = from_leaks();
  for (std::size_t state = 0; state < leaked.size(); ++state) {
    add(link.strength, lived.front(), lived.subspan(1), leaked[state], state, chances);
  }
  return chances;
}

}  // namespace tickover::belief::tables
