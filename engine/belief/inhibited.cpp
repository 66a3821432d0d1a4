#include <algorithm>

#include "engine/belief/problem.hpp"

/// What inhibitors hide, by bits alone. Of each look at a finding, every set of causes hidden by
/// the same inhibitors has a few bits that are closed together: does it produce the level seen, or
/// one above, is an inhibitor present, and does it count as shown? The last is said by a variable
/// of its own with two equally weighty states, a *relay*, which then covers the finding's bit as a
/// cause would. So the parts of a finding never have their bits open at once.
namespace tickover::belief {

/// A look at a finding with inhibitors, seen at the same level both before it and after it, tells
/// nothing where causes only go and no inhibitor does: what shows can then only fall. Without this
/// every road test that changed nothing would cost a look's bits.
bool Compiler::implied(const LevelObservation& seen) const {
  if (given_->now < 2 || !given_->network->findings[seen.finding].inhibited()) return false;
  bool before = false, after = false;
  for (const LevelObservation& other : given_->levels) {
    if (other.finding != seen.finding || other.level != seen.level) continue;
    before = before || other.epoch < seen.epoch;
    after = after || other.epoch > seen.epoch;
  }
  return before && after && can_only_fall(seen.finding);
}

bool Compiler::can_only_fall(std::size_t finding) const {
  const auto all_lives = [&](std::size_t cause, const auto& holds) {
    const std::span<const LifeChance> ways = lives_.of(cause);
    return std::all_of(ways.begin(), ways.end(), [&](const LifeChance& way) {
      return way.life == Life{0, 0} || holds(way.life);
    });
  };
  const auto stay = [&](const std::vector<std::size_t>& inhibitors) {
    return std::all_of(inhibitors.begin(), inhibitors.end(), [&](std::size_t cause) {
      return all_lives(cause, [](const Life& life) { return life.end == kForever; });
    });
  };
  const Finding& f = given_->network->findings[finding];
  return std::none_of(given_->windows.begin(), given_->windows.end(),
                      [&](const Window& window) { return window.finding == finding; }) &&
         stay(f.leak_inhibitors) &&
         std::all_of(f.links.begin(), f.links.end(), [&](const Link& link) {
           return all_lives(link.cause, [](const Life& life) { return life.begin == 0; }) &&
                  stay(link.inhibitors);
         });
}

/// And which findings have none, and fold.
void Compiler::find_parts() {
  parts_.clear();
  const bool one_epoch = given_->now == 0 && !prospects_;
  for (const std::uint32_t f : watched_) {
    const Finding& finding = given_->network->findings[f];
    const bool inhibited = finding.inhibited();
    Watch& watch = watches_[f];
    watch.folds = one_epoch && watch.silent && !inhibited;
    watch.once = watch.bits == 1 && watch.levels.size() == 1 && watch.soft.empty() &&
                 finding.leak.size() == 1;
    if (!inhibited) continue;
    add_part(f, finding.leak_inhibitors);
    for (const Link& link : finding.links) add_part(f, link.inhibitors);
  }
}

void Compiler::add_part(std::uint32_t finding, const std::vector<std::size_t>& inhibitors) {
  if (inhibitors.empty() || target(finding, inhibitors) != finding) return;
  Part part{finding, &inhibitors};
  const auto bit = [&] { return std::uint64_t{1} << part.bits++; };
  const std::size_t highest = given_->network->findings[finding].leak.size();
  for (const Watch::Seen& seen : watches_[finding].levels) {
    if (seen.epoch > given_->now) continue;  // the prospect: what is hidden is not gone
    Part::Look look{seen.epoch, seen.level, seen.mask};
    look.hidden = bit();
    if (seen.level < highest) look.more = bit();
    if (seen.level > 0) look.same = bit();
    if (seen.level > 0) look.told = bit();
    part.looks.push_back(look);
  }
  parts_.push_back(part);
}

/// The number under which a link to the finding has its bits.
std::uint32_t Compiler::target(std::uint32_t finding,
                               const std::vector<std::size_t>& inhibitors) const {
  if (inhibitors.empty()) return finding;
  for (const Part& part : parts_) {
    if (part.finding == finding && *part.inhibitors == inhibitors) return number_of(part);
  }
  return finding;
}

std::uint32_t Compiler::number_of(const Part& part) const {
  return static_cast<std::uint32_t>(watches_.size()) +
         static_cast<std::uint32_t>(&part - parts_.data());
}

/// For each look the weight of each combination of its bits: 1 when what shows fits what was seen.
void Compiler::add_part_groups(std::uint32_t part) {
  const Range own = out_->bits[watches_.size() + part];
  for (const Part::Look& look : parts_[part].looks) {
    Group group;
    std::vector<std::uint64_t> masks;
    for (const std::uint64_t mask : {look.same, look.more, look.hidden, look.told}) {
      if (mask == 0) continue;
      std::uint32_t bit = own.begin;
      while ((mask >> (bit - own.begin) & 1) == 0) ++bit;
      group.bits.push_back(bit);
      masks.push_back(mask);
    }
    for (std::size_t combination = 0; combination >> masks.size() == 0; ++combination) {
      const auto is = [&](std::uint64_t mask) {
        const auto at = std::find(masks.begin(), masks.end(), mask) - masks.begin();
        return mask != 0 && (combination >> at & 1) != 0;
      };
      const bool open = !is(look.hidden);
      const bool fits = !(open && is(look.more)) && is(look.told) == (open && is(look.same));
      group.table.push_back(fits ? 1 : 0);
    }
    out_->groups.push_back(std::move(group));
  }
}

bool Compiler::in_prospect(const LinkTo& link) const {
  if (link.finding < watches_.size()) return watches_[link.finding].prospect;
  const Part& part = parts_[link.finding - watches_.size()];
  return link.strength != nullptr && watches_[part.finding].prospect;
}

/// As touch(), through a link to a part.
bool Compiler::touch_part(const LinkTo& link, Life life, State& state) {
  const Part& part = parts_[link.finding - watches_.size()];
  if (link.strength != nullptr) return cover_part(part, *link.strength, life, state);
  hide(part, life, state);
  return true;
}

/// As cover(): whatever is produced may be hidden, but not in the prospect.
bool Compiler::cover_part(const Part& part, const std::vector<double>& strength, Life life,
                          State& state) {
  const auto begin = static_cast<std::uint32_t>(out_->alternatives.size());
  Range range{begin, begin};
  const bool lasts = watches_[part.finding].prospect && life.in(given_->now + 1);
  for (std::size_t level = 0; level <= strength.size(); ++level) {
    const double weight = weight_of_level(strength, level);
    if (!(weight > 0) || (lasts && level > 0)) continue;
    std::uint64_t mask = 0;
    for (const Part::Look& look : part.looks) {
      if (!life.in(look.epoch)) continue;
      if (level == look.level) mask |= look.same;
      if (level > look.level) mask |= look.more;
    }
    add_alternative(range, weight, mask);
  }
  return emit(number_of(part), range, state);
}

void Compiler::hide(const Part& part, Life life, State& state) {
  std::uint64_t mask = 0;
  for (const Part::Look& look : part.looks) {
    if (life.in(look.epoch)) mask |= look.hidden;
  }
  if (mask == 0) return;
  const auto begin = static_cast<std::uint32_t>(out_->alternatives.size());
  out_->alternatives.push_back({1, mask});
  emit(number_of(part), {begin, begin + 1}, state);
}

void Compiler::add_relays(const Part& part) {
  for (const Part::Look& look : part.looks) {
    if (look.told == 0) continue;
    const auto first = static_cast<std::uint32_t>(out_->states.size());
    const auto emissions = static_cast<std::uint32_t>(out_->emissions.size());
    out_->emissions.push_back({part.finding, {}, look.shown, 0, 1});
    out_->emissions.push_back({number_of(part), {}, look.told, 0, 1});
    out_->states.push_back({{0, 0}, 1, Fate::any, {emissions, emissions}});
    out_->states.push_back({{0, 0}, 1, Fate::any, {emissions, emissions + 2}});
    out_->variables.push_back({first, first + 2});
  }
}

}  // namespace tickover::belief
