#include "engine/plan/choices.hpp"

#include <algorithm>

namespace tickover::plan {
namespace {

constexpr double kLeastRegret = 5;  ///< minutes of opening again that are worth a word

bool looks_by(const Advice& advice, std::size_t check) {
  if (advice.course_now.batches.empty()) return false;
  const std::vector<CourseStep>& steps = advice.course_now.batches.front().steps;
  return std::any_of(steps.begin(), steps.end(), [&](const CourseStep& step) {
    return step.look && step.look->check == check;
  });
}

/// The checks that `holds(proposal, need)`, best first.
template <class Holds>
std::vector<Worthwhile> worthwhile(const Workshop& workshop, const Advice& advice, Holds holds) {
  std::vector<Worthwhile> found;
  for (std::size_t i = 0; i < advice.proposals.size(); ++i) {
    const Proposal& proposal = advice.proposals[i];
    if (proposal.kind != ActionKind::check) continue;
    const double spares = spared_by_itself(advice, proposal);
    const bool planned = looks_by(advice, proposal.index);
    if (spares < kLeastSpared && !planned) continue;
    const pack::Check& check = workshop.model().pack.checks[proposal.index];
    const AccessNeed need = workshop.access().need_of(check);
    if (!holds(proposal, need)) continue;
    const OpenLayers later = workshop.access().after({}, need);
    found.push_back({i, spares, planned, workshop.access().minutes({}, later).total()});
  }
  const auto rate = [&](const Worthwhile& one) {
    return one.spares / std::max(advice.proposals[one.proposal].minutes(), 1.0);
  };
  std::stable_sort(found.begin(), found.end(),
                   [&](const Worthwhile& a, const Worthwhile& b) { return rate(a) > rate(b); });
  return found;
}

}  // namespace

double spared_by_itself(const Advice& advice, const Proposal& check) {
  return advice.course_now.expected_minutes - (check.expected_minutes + check.farther);
}

std::vector<Worthwhile> before_refit(const Workshop& workshop, const Evidence& evidence,
                                     const Advice& advice) {
  const Access& access = workshop.access();
  return worthwhile(workshop, advice, [&](const Proposal& proposal, const AccessNeed& need) {
    return !need.running && proposal.open_after == evidence.open_layers &&
           access.minutes({}, access.after({}, need)).total() >= kLeastRegret;
  });
}

std::vector<Worthwhile> before_strip(const Workshop& workshop, const Evidence& evidence,
                                     const Advice& advice) {
  if (advice.proposals.empty()) return {};
  const Access& access = workshop.access();
  const OpenLayers next = advice.proposals.front().open_after;
  // a course opens what it opens within itself
  const bool strips = advice.proposals.front().kind == ActionKind::course ||
                      !(access.after(next, access.closed()) == next);
  const bool runs_now = access.after(evidence.open_layers, access.closed()) == evidence.open_layers;
  if (!strips || !runs_now) return {};
  return worthwhile(workshop, advice, [&](const Proposal& proposal, const AccessNeed& need) {
    return !need.shut.empty() && &proposal != &advice.proposals.front() &&
           spared_by_itself(advice, proposal) >= kLeastSpared;
  });
}

std::vector<Unseen> renewed_unseen(const Model& model, const Advice& advice) {
  constexpr double kLikely = 0.5;
  std::vector<Unseen> unseen;
  std::vector<bool> looked(model.causes.size(), false);  // by the plan itself
  for (const Batch& batch : advice.course_now.batches) {
    for (const CourseStep& step : batch.steps) {
      double needed = 0;
      bool any_looked = false;
      for (const belief::Removal& one : step.removals) {
        needed = std::max(needed, advice.belief.present_now[one.cause]);
        any_looked = any_looked || looked[one.cause];
        if (step.look) looked[one.cause] = true;
      }
      const bool parts = !model.pack.repairs[step.repair].parts.empty();
      if (!step.look && parts && !any_looked && needed < kLikely)
        unseen.push_back({step.repair, step.place, needed});
    }
  }
  return unseen;
}

std::vector<std::size_t> most_telling(const Advice& advice, std::size_t count) {
  constexpr double kWorthAWord = 0.05;
  std::vector<std::size_t> telling;
  for (std::size_t i = 0; i < advice.proposals.size(); ++i) {
    if (advice.proposals[i].told >= kWorthAWord) telling.push_back(i);
  }
  const auto rate = [&](std::size_t i) {
    return advice.proposals[i].told / std::max(advice.proposals[i].minutes(), 1.0);
  };
  std::stable_sort(telling.begin(), telling.end(),
                   [&](std::size_t a, std::size_t b) { return rate(a) > rate(b); });
  telling.resize(std::min(telling.size(), count));
  return telling;
}

}  // namespace tickover::plan
