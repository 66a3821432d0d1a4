#include <algorithm>

#include "engine/belief/problem.hpp"

/// What was observed, finding by finding.
namespace tickover::belief {

std::vector<std::size_t> observed_too_often(const Case& given) {
  constexpr std::size_t kMostBits = 60;
  constexpr std::size_t kBitsOfInhibited = 4;  // of a look at what inhibitors hide
  if (given.levels.size() * kBitsOfInhibited + given.soft.size() <= kMostBits) return {};
  std::vector<std::size_t> bits(given.network->findings.size(), 0), often;
  for (const LevelObservation& seen : given.levels) bits[seen.finding] += kBitsOfInhibited;
  for (const SoftObservation& soft : given.soft) {
    for (const std::size_t finding : soft.findings) ++bits[finding];
  }
  if (*std::max_element(bits.begin(), bits.end()) <= kMostBits) return {};
  bits.assign(bits.size(), 0);
  for (const LevelObservation& seen : given.levels) {
    const bool hides = given.network->findings[seen.finding].inhibited();
    bits[seen.finding] += hides ? kBitsOfInhibited : seen.level > 0;
  }
  for (const SoftObservation& soft : given.soft) {
    for (const std::size_t finding : soft.findings) ++bits[finding];
  }
  for (std::size_t f = 0; f < bits.size(); ++f) {
    if (bits[f] > kMostBits) often.push_back(f);
  }
  return often;
}

bool Compiler::aside(std::size_t finding) const {
  return std::binary_search(set_aside_->begin(), set_aside_->end(), finding);
}

void Compiler::watch_findings(const std::vector<std::size_t>* absent) {
  for (const std::uint32_t f : watched_) {  // of the case before
    if (f >= watches_.size()) continue;
    watches_[f].levels.clear();
    watches_[f].soft.clear();
    watches_[f].bits = 0;
    watches_[f].prospect = false;
    watches_[f].silent = true;
  }
  watches_.resize(given_->network->findings.size());
  soft_.clear();
  for (const LevelObservation& seen : given_->levels) watch_level(seen);
  for (const SoftObservation& soft : given_->soft) watch_soft(soft);
  if (absent != nullptr) {
    for (const std::size_t finding : *absent) {
      watches_[finding].levels.push_back({given_->now + 1, 0, 0});
      watches_[finding].prospect = true;
    }
  }
  watched_.clear();
  for (std::uint32_t f = 0; f < watches_.size(); ++f) {
    if (watches_[f].watched()) watched_.push_back(f);
  }
}

void Compiler::watch_level(const LevelObservation& seen) {
  if (aside(seen.finding) || implied(seen)) return;
  Watch& watch = watches_[seen.finding];
  for (const Watch::Seen& known : watch.levels) {
    if (known.epoch == seen.epoch && known.level == seen.level) return;
  }
  const std::uint64_t mask = seen.level > 0 ? std::uint64_t{1} << watch.bits++ : 0;
  watch.silent = watch.silent && seen.level == 0;
  watch.levels.push_back({seen.epoch, seen.level, mask});
}

/// The first epoch from which on nothing that moves the finding has come or gone until `epoch`:
/// what a sensor sees of it is the same in all of them, so they share a bit.
Epoch Compiler::settled_since(std::size_t finding, Epoch epoch) const {
  Epoch since = 0;
  if (epoch == 0) return since;
  const auto change = [&](std::span<const LifeChance> ways) {
    for (const LifeChance& way : ways) {
      if (way.life.begin <= epoch) since = std::max(since, way.life.begin);
      if (way.life.end <= epoch) since = std::max(since, way.life.end);
    }
  };
  for (const Link& link : given_->network->findings[finding].links) {
    change(lives_.of(link.cause));
  }
  change(lives_of_leak(*given_, finding, 0));
  for (const Window& window : given_->windows) {
    if (window.finding != finding) continue;
    change(lives_of_leak(*given_, finding, window.epoch));
  }
  return since;
}

/// The bit of a sensed finding in that epoch.
std::uint32_t Compiler::soft_bit(Watch& watch, Epoch epoch) {
  for (const Watch::Sensed& sensed : watch.soft) {
    if (sensed.epoch == epoch) return sensed.bit;
  }
  watch.soft.push_back({epoch, watch.bits++});
  watch.silent = false;
  return watch.soft.back().bit;
}

void Compiler::watch_soft(const SoftObservation& soft) {
  if (std::any_of(soft.findings.begin(), soft.findings.end(),
                  [&](std::size_t f) { return aside(f); })) {
    return;
  }
  const double first = soft.likelihood.front();
  if (first > 0 && std::count(soft.likelihood.begin(), soft.likelihood.end(), first) ==
                       std::ssize(soft.likelihood)) {
    out_->scale = out_->scale * first;  // it tells nothing: no bit is needed for it
    return;
  }
  SoftBits bits{&soft, {}};
  for (const std::size_t f : soft.findings) {
    bits.bits.push_back(soft_bit(watches_[f], settled_since(f, soft.epoch)));
  }
  soft_.push_back(std::move(bits));
}

}  // namespace tickover::belief
