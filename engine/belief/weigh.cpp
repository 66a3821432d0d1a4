#include "engine/belief/weigh.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/belief/infer.hpp"

namespace tickover::belief {
namespace {

double odds_decibans(double p) {
  return std::clamp(decibans(p / (1 - p)), -kMostDecibans, kMostDecibans);
}

/// The case with only the observations of `kept`. Removals stay: they are acts, not observations.
Case only(const Case& given, const std::set<std::size_t>& kept) {
  Case part = given;
  const auto unwanted = [&](const auto& seen) { return kept.count(seen.source) == 0; };
  std::erase_if(part.levels, unwanted);
  std::erase_if(part.soft, unwanted);
  std::erase_if(part.seen, unwanted);
  return part;
}

bool impossible(const Case& given, const std::set<std::size_t>& kept) {
  return !std::isfinite(log_evidence(only(given, kept)));
}

std::vector<std::size_t> observing_sources(const Case& given) {
  std::set<std::size_t> all;
  for (const LevelObservation& seen : given.levels) all.insert(seen.source);
  for (const SoftObservation& seen : given.soft) all.insert(seen.source);
  for (const CauseObservation& seen : given.seen) all.insert(seen.source);
  return {all.begin(), all.end()};
}

}  // namespace

double decibans(double factor) { return 10 * std::log10(factor); }

Case up_to(const Case& given, std::size_t source) {
  std::set<std::size_t> kept;
  for (const std::size_t one : observing_sources(given)) {
    if (one <= source) kept.insert(one);
  }
  return only(given, kept);
}

std::vector<std::size_t> sources(const Case& given) {
  std::set<std::size_t> all;
  for (const std::size_t source : observing_sources(given)) all.insert(source);
  for (const Removal& removal : given.removals) all.insert(removal.source);
  return {all.begin(), all.end()};
}

std::vector<Weight> weights_of_evidence(const Case& given, std::size_t cause) {
  std::vector<Weight> weights;
  Solver solver;  // whose order of elimination will do for the next case too
  const auto odds_after = [&](std::size_t source) {
    const Case known = up_to(given, source);
    Belief belief = solver.infer(known);
    if (!belief.exact) belief = infer(known);
    return odds_decibans(belief.present_at_start[cause]);
  };
  double before = odds_after(0);
  for (const std::size_t source : observing_sources(given)) {
    const double after = odds_after(source);
    weights.push_back({source, after - before});
    before = after;
  }
  return weights;
}

std::vector<std::size_t> conflict(const Case& given) {
  const std::vector<std::size_t> all = observing_sources(given);
  std::set<std::size_t> kept;
  for (const std::size_t source : all) {
    kept.insert(source);
    if (impossible(given, kept)) break;
  }
  if (kept.empty() || !impossible(given, kept)) return {};
  const std::size_t last = *kept.rbegin();
  for (const std::size_t source : std::set<std::size_t>(kept)) {  // drop what is not needed for it
    if (source == last) continue;
    kept.erase(source);
    if (!impossible(given, kept)) kept.insert(source);
  }
  return {kept.begin(), kept.end()};
}

}  // namespace tickover::belief
