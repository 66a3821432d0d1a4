#include "engine/belief/ground.hpp"

#include <algorithm>
#include <map>

namespace tickover::belief {
namespace {

Finding listed_finding(const pack::Finding& finding, const FindingInstance& instance) {
  Finding node{probabilities_of(finding.leak), {}, instance.spoilers};
  for (const LinkInstance& link : instance.links) {
    node.links.push_back({link.cause, strength_of(finding, link), link.spoilers});
  }
  return node;
}

/// A reading moved in one direction: binary, with the links of that direction.
Finding moved_finding(const pack::Finding& finding, const FindingInstance& instance,
                      pack::Direction direction) {
  Finding node{probabilities_of(finding.leak), {}};
  for (const LinkInstance& link : instance.links) {
    const pack::Link& from = finding.links[link.link];
    if (from.direction == direction) {
      node.links.push_back({link.cause, strength_of(finding, link)});
    }
  }
  return node;
}

/// In the order of their values, so that they number the nodes.
std::vector<pack::Direction> directions_of(const pack::Finding& finding) {
  using enum pack::Direction;
  return finding.gases.empty() ? std::vector{low, high} : std::vector{low, high, thinned};
}

}  // namespace

Ground::Ground(const Model& model) : model_(model) {
  Network& network = network_.own();
  for (const CauseInstance& cause : model.causes) {
    network.causes.push_back({cause.prior, model.pack.causes[cause.cause].disturbed.value});
  }
  for (const FindingInstance& instance : model.findings) {
    const pack::Finding& finding = model.pack.findings[instance.finding];
    nodes_.push_back(std::nullopt);
    if (finding.kind == pack::Kind::inspection) continue;
    nodes_.back() = network.findings.size();
    if (finding.kind != pack::Kind::reading) {
      network.findings.push_back(listed_finding(finding, instance));
      continue;
    }
    for (const pack::Direction direction : directions_of(finding)) {
      network.findings.push_back(moved_finding(finding, instance, direction));
    }
  }
}

std::vector<std::size_t> Ground::nodes_of(const std::vector<std::size_t>& findings) const {
  std::vector<std::size_t> nodes;
  for (const std::size_t finding : findings) {
    if (nodes_[finding]) nodes.push_back(*nodes_[finding]);
  }
  return nodes;
}

void Ground::observe(Case& given, const Observation& seen) const {
  const FindingInstance& instance = model_.findings[seen.finding];
  const pack::Finding& finding = model_.pack.findings[instance.finding];
  if (finding.kind == pack::Kind::inspection) {
    const pack::Outcome& outcome = finding.outcomes[seen.level];
    given.seen.push_back(
        {*instance.cause, seen.epoch, outcome.present.value, outcome.absent.value, seen.entry});
  } else if (finding.kind == pack::Kind::reading) {
    std::vector<std::size_t> nodes;
    for (const Way& way : seen.likelihood.ways) {
      nodes.push_back(*nodes_[way.finding] + static_cast<std::size_t>(way.direction));
    }
    if (nodes.empty()) return;
    given.soft.push_back({nodes, seen.epoch, seen.likelihood.table, seen.entry});
  } else {
    given.levels.push_back({*nodes_[seen.finding], seen.epoch, seen.level, seen.entry});
  }
}

Case Ground::given(const Evidence& evidence) const {
  Case given;
  given.network = network_;
  given.now = evidence.epoch;
  given.fade = model_.pack.fades.value;
  for (const Observation& seen : evidence.observations) observe(given, seen);
  for (const RepairDone& done : evidence.repairs) {
    given.removals.push_back({done.cause, done.epoch, done.success, done.entry});
  }
  add_windows(given);
  return given;
}

/// Between an observation and a stronger one of the same finding in a later epoch something new may
/// have come in at any of the repairs between them; before a weaker one something may have gone
/// unnoticed.
void Ground::add_windows(Case& given) {
  std::map<std::size_t, std::vector<LevelObservation>> seen;
  for (const LevelObservation& one : given.levels) seen[one.finding].push_back(one);
  for (auto& [finding, all] : seen) {
    std::stable_sort(all.begin(), all.end(),
                     [](const auto& a, const auto& b) { return a.epoch < b.epoch; });
    for (std::size_t i = 1; i < all.size(); ++i) {
      if (all[i].level == all[i - 1].level) continue;
      std::vector<Window>& changes = all[i].level > all[i - 1].level ? given.windows : given.fades;
      for (Epoch e = all[i - 1].epoch + 1; e <= all[i].epoch; ++e) changes.push_back({finding, e});
    }
  }
}

}  // namespace tickover::belief
