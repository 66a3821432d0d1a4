#include "engine/trial/world.hpp"

#include <algorithm>

#include "engine/belief/network.hpp"
#include "engine/trial/value.hpp"

namespace tickover::trial {
namespace {

/// The level that a draw by `shares` (of levels 1, 2, ..) gives; 0 when none.
std::size_t drawn_level(const std::vector<double>& shares, const Draws& draws, Purpose purpose,
                        Key key) {
  const std::size_t picked = draws.pick(shares, purpose, key);
  return picked == shares.size() ? 0 : picked + 1;
}

/// Repairs up to `epoch` of what `counts` tells of.
template <class Counts>
std::size_t repairs_until(const Evidence& evidence, std::size_t epoch, const Counts& counts) {
  return static_cast<std::size_t>(std::count_if(
      evidence.repairs.begin(), evidence.repairs.end(),
      [&](const RepairDone& done) { return done.epoch <= epoch && counts(done.cause); }));
}

}  // namespace

World::World(const Model& truth, const Draws& draws)
    : truth_(&truth),
      draws_(draws),
      ends_(truth.causes.size(), 0),
      tries_(truth.pack.repairs.size()) {
  for (std::size_t c = 0; c < ends_.size(); ++c) {
    if (draws_.chance(truth.causes[c].prior, Purpose::cause, {c})) ends_[c] = belief::kForever;
  }
}

const pack::Finding& World::finding_of(std::size_t instance) const {
  return truth_->pack.findings[truth_->findings[instance].finding];
}

std::size_t World::faults() const {
  return ends_.size() - static_cast<std::size_t>(std::count(ends_.begin(), ends_.end(), 0));
}

bool World::present(std::size_t cause, std::size_t epoch) const { return epoch < ends_[cause]; }

std::size_t World::leak_level(std::size_t finding, std::size_t direction, std::size_t epoch) const {
  for (std::size_t e = 1; e <= epoch; ++e) {
    const Key key{finding, direction, e};
    if (draws_.chance(truth_->pack.fades.value, Purpose::fade_leak, key)) return 0;
  }
  return drawn_level(probabilities_of(finding_of(finding).leak), draws_, Purpose::leak,
                     {finding, direction});
}

std::size_t World::link_level(std::size_t finding, std::size_t link) const {
  const LinkInstance& instance = truth_->findings[finding].links[link];
  return drawn_level(strength_of(finding_of(finding), instance), draws_, Purpose::link,
                     {finding, link});
}

std::size_t World::level(std::size_t finding, std::size_t epoch) const {
  const std::vector<LinkInstance>& links = truth_->findings[finding].links;
  const bool none = spoiled(truth_->findings[finding].spoilers, epoch);
  std::size_t level = none ? 0 : leak_level(finding, 0, epoch);
  for (std::size_t l = 0; l < links.size(); ++l) {
    const bool shows = present(links[l].cause, epoch) && !spoiled(links[l].spoilers, epoch);
    if (shows) level = std::max(level, link_level(finding, l));
  }
  return level;
}

bool World::spoiled(const std::vector<std::size_t>& spoilers, std::size_t epoch) const {
  return std::any_of(spoilers.begin(), spoilers.end(),
                     [&](std::size_t cause) { return present(cause, epoch); });
}

bool World::moved(std::size_t finding, pack::Direction direction, std::size_t epoch) const {
  if (leak_level(finding, static_cast<std::size_t>(direction), epoch) > 0) return true;
  const std::vector<LinkInstance>& links = truth_->findings[finding].links;
  for (std::size_t l = 0; l < links.size(); ++l) {
    const bool so = finding_of(finding).links[links[l].link].direction == direction;
    if (so && present(links[l].cause, epoch) && link_level(finding, l) > 0) return true;
  }
  return false;
}

std::vector<std::size_t> World::producers(std::size_t finding, std::size_t epoch) const {
  std::vector<std::size_t> causes;
  const std::vector<LinkInstance>& links = truth_->findings[finding].links;
  for (std::size_t l = 0; l < links.size(); ++l) {
    const bool produces = present(links[l].cause, epoch) && link_level(finding, l) > 0;
    if (produces) causes.push_back(links[l].cause);
  }
  return causes;
}

bool World::unlisted(std::size_t finding, std::size_t epoch) const {
  return leak_level(finding, 0, epoch) > 0;
}

std::string World::answer(const Evidence& evidence, std::size_t finding, std::size_t nth,
                          double slips) const {
  if (draws_.chance(slips, Purpose::misread, {finding, nth})) return misread(finding, nth);
  const pack::Finding& what = finding_of(finding);
  if (what.kind == pack::Kind::inspection) return outcome(evidence, finding);
  if (what.kind == pack::Kind::reading) return written(what, reading(evidence, finding, nth));
  return what.levels[level(finding, epoch_told(*truth_, evidence, finding))];
}

/// The same eyes see the same part: what it shows is drawn once between two repairs of it.
std::string World::outcome(const Evidence& evidence, std::size_t finding) const {
  const pack::Finding& what = finding_of(finding);
  const std::size_t cause = *truth_->findings[finding].cause;
  const std::size_t epoch = epoch_told(*truth_, evidence, finding);
  std::vector<double> likely;
  for (const pack::Outcome& one : what.outcomes) {
    likely.push_back(present(cause, epoch) ? one.present.value : one.absent.value);
  }
  const std::size_t repaired =
      repairs_until(evidence, epoch, [&](std::size_t of) { return of == cause; });
  const std::size_t picked = draws_.pick(likely, Purpose::outcome, {finding, repaired});
  return what.outcomes[std::min(picked, likely.size() - 1)].id;
}

double World::common_level(std::size_t finding, std::size_t epoch) const {
  const SiblingModel siblings = sibling_model(*truth_, finding_of(finding));
  const Key key{truth_->findings[finding].finding, epoch};
  if (siblings.level_known) {
    return siblings.level + siblings.level_deviation * draws_.normal(Purpose::common, key);
  }
  // the pack takes any plausible level for equally likely; the middle half leaves room for places
  // that are moved
  const ReadingModel& place = siblings.place;
  const double share = 0.25 + 0.5 * draws_.uniform(Purpose::common, key);
  return place.plausible_low + share * (place.plausible_high - place.plausible_low);
}

/// The part lies where it lies until something that moves it is repaired; the instrument errs anew.
double World::reading(const Evidence& evidence, std::size_t finding, std::size_t nth) const {
  const pack::Finding& what = finding_of(finding);
  const std::size_t epoch = epoch_told(*truth_, evidence, finding);
  ReadingModel model = reading_model(*truth_, truth_->findings[finding]);
  if (what.sibling_tolerance) {
    model = sibling_model(*truth_, what).place;
    model.wanted = common_level(finding, epoch);
  }
  const std::vector<LinkInstance>& links = truth_->findings[finding].links;
  const std::size_t part = repairs_until(evidence, epoch, [&](std::size_t cause) {
    return std::any_of(links.begin(), links.end(),
                       [&](const LinkInstance& link) { return link.cause == cause; });
  });
  const Moves moves{model.shift_low > 0 && moved(finding, pack::Direction::low, epoch),
                    model.shift_high > 0 && moved(finding, pack::Direction::high, epoch)};
  return drawn_value(model, moves, draws_, {finding, part}, {finding, part, nth});
}

std::string World::misread(std::size_t finding, std::size_t nth) const {
  const pack::Finding& what = finding_of(finding);
  const double share = draws_.uniform(Purpose::misread, {finding, nth, 1});
  if (what.kind == pack::Kind::reading) {
    const ReadingModel model = reading_model(*truth_, truth_->findings[finding]);
    const double range = model.plausible_high - model.plausible_low;
    return written(what, model.plausible_low + share * range);
  }
  const bool inspection = what.kind == pack::Kind::inspection;
  const std::size_t count = inspection ? what.outcomes.size() : what.levels.size();
  const auto picked = static_cast<std::size_t>(share * static_cast<double>(count));
  return inspection ? what.outcomes[picked].id : what.levels[picked];
}

bool World::succeeds(std::size_t repair, std::size_t cause, double success, std::size_t nth,
                     std::size_t seen) const {
  if (draws_.chance(truth_->pack.again.value, Purpose::again, {cause, seen})) {
    return draws_.chance(success, Purpose::success, {repair, cause, nth});
  }
  return draws_.chance(success, Purpose::threshold, {cause, seen});
}

void World::repair(const std::vector<RepairDone>& done) {
  if (done.empty()) return;
  const std::size_t epoch = done.front().epoch;
  for (const RepairDone& one : done) {
    std::vector<std::size_t>& tries = tries_[one.repair];
    tries.resize(truth_->causes.size(), 0);
    const double success = success_of(*truth_, one);
    if (succeeds(one.repair, one.cause, success, tries[one.cause]++, one.seen)) {
      ends_[one.cause] = std::min(ends_[one.cause], epoch);
    }
  }
  for (std::size_t c = 0; c < ends_.size(); ++c) {
    const bool faded = ends_[c] > epoch &&
                       draws_.chance(truth_->pack.fades.value, Purpose::fade_cause, {c, epoch});
    if (faded) ends_[c] = epoch;
  }
}

bool noticed_unasked(const pack::Pack& pack, std::size_t finding) {
  if (pack.findings[finding].kind != pack::Kind::symptom) return false;
  return pack.words.empty() ||
         std::any_of(pack.words.begin(), pack.words.end(), [&](const pack::Words& words) {
           return std::find(words.means.begin(), words.means.end(), finding) != words.means.end();
         });
}

}  // namespace tickover::trial
