#include "engine/plan/carried.hpp"

#include "engine/belief/decide.hpp"
#include "engine/plan/leaves.hpp"

namespace tickover::plan {
namespace {

/// Draws of the posterior to decide over, and how many equally probable ones must be left.
constexpr std::size_t kQuickDraws = 100;
constexpr double kLeastLeft = 10;
/// Bits to find out with what is probable before they are drawn, and to draw with at most: more
/// take time and save no minutes.
constexpr std::size_t kRoughBits = 8, kMostBits = 10;
constexpr Breadth kNarrow = {.tried = 8, .planned = 2, .blamed = 3, .failures = false};

}  // namespace

std::optional<Proposal> Carried::first() {
  if (!learn() && !draw()) return std::nullopt;
  if (const std::optional<Proposal> best = lookahead_->cheapest()) return best;
  return to_begin(workshop_, evidence_.open_layers, lookahead_->course());
}

/// Weighs in what was observed since; false where that is not all there is, or too few draws are
/// left.
bool Carried::learn() {
  const std::size_t known = observations_;
  const bool only_seen =
      lookahead_ && evidence_.repairs.size() == repairs_ &&
      evidence_.replaced.size() == replaced_ && evidence_.repairs_since_verify == unverified_ &&
      evidence_.complaint.size() == complaint_ && evidence_.observations.size() >= known;
  observations_ = evidence_.observations.size();
  repairs_ = evidence_.repairs.size();
  replaced_ = evidence_.replaced.size();
  unverified_ = evidence_.repairs_since_verify;
  complaint_ = evidence_.complaint.size();
  if (!only_seen || !of_their_own(known)) return false;
  return lookahead_->learn({evidence_.observations.begin() + static_cast<std::ptrdiff_t>(known),
                            evidence_.observations.end()}) >= kLeastLeft;
}

/// Each observation from `first` on is likely by what is present now, whatever was seen before:
/// none of the past, of what was seen already, or against siblings that were.
bool Carried::of_their_own(std::size_t first) const {
  const std::vector<Observation>& seen = evidence_.observations;
  const auto kind = [&](const Observation& one) {
    return workshop_.model().findings[one.finding].finding;
  };
  for (std::size_t i = first; i < seen.size(); ++i) {
    if (seen[i].epoch != evidence_.epoch) return false;
    for (std::size_t before = 0; before < i; ++before) {
      if (seen[before].finding == seen[i].finding) return false;
      if (seen[i].sibling && before < first && kind(seen[before]) == kind(seen[i])) return false;
    }
  }
  return true;
}

bool Carried::draw() {
  const belief::Case whole = ground_.given(evidence_);
  std::optional<belief::Belief> known;
  const auto rough = [&]() -> const belief::Belief& {
    if (!known) known = belief::without_sensors(whole, kRoughBits);
    return *known;
  };
  given_ = whole.soft.empty() ? whole : belief::decided(whole, kDoubt, &rough());
  const auto sample = std::make_shared<const Sample>(Sample::draw(
      given_, ground_.nodes_of(evidence_.complaint), kQuickDraws,
      [&] { return rough().present_now; }, kMostBits));
  if (sample->scenes().empty()) return false;
  const Done done = plan::done(workshop_.model(), evidence_);
  const std::vector<double> shares = sample->shares();
  SampleCures cures(*sample, shares);
  const Course course = plan_course(
      workshop_, {cures, done, evidence_.open_layers, evidence_.repairs_since_verify > 0});
  lookahead_.emplace(workshop_, ground_, evidence_, done, sample, course, kNarrow);
  return true;
}

}  // namespace tickover::plan
