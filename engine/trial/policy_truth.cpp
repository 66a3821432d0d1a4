#include <algorithm>
#include <limits>
#include <set>

#include "engine/trial/moves.hpp"
#include "engine/trial/policy.hpp"
#include "engine/trial/value.hpp"

namespace tickover::trial {
namespace {

/// Further tries of one repair than this are not thought of.
constexpr std::size_t kMostTries = 4;

/// A repair at one place that will take a cause away at the `tries`-th time.
struct Way {
  const plan::CourseStep* step = nullptr;
  std::size_t tries = 1;
};

/// Knows which faults produce what the rider told, and which repairs will succeed: the cheapest set
/// of repairs that takes them all away, done in one go and proven once; or handing on, when that is
/// cheaper or something unlisted is behind it. Never waits for something to end by itself.
class TruthPolicy : public Policy {
 public:
  void act(Simulation& job) override {
    const std::optional<std::set<std::size_t>> wanted = faults(job);
    if (!wanted) return job.hand_on();
    const std::vector<std::size_t> causes(wanted->begin(), wanted->end());
    std::vector<Way> chosen;
    best_minutes_ = job.workshop().hand_on_minutes();
    best_.clear();
    choose(job, causes, 0, chosen);
    if (best_.empty()) return job.hand_on();
    for (const Way& way : best_) {
      for (std::size_t i = 0; i < way.tries; ++i)
        job.repair(way.step->repair, places_of(*way.step));
    }
    job.verify();
    if (!job.over()) job.hand_on();  // not reached: the truth is known
  }

 private:
  static std::optional<std::set<std::size_t>> faults(const Simulation& job) {
    std::set<std::size_t> causes;
    for (const std::size_t finding : job.evidence().complaint) {
      if (job.world().unlisted(finding, 0)) return std::nullopt;
      for (const std::size_t cause : job.world().producers(finding, 0)) causes.insert(cause);
    }
    return causes;
  }

  /// Ways of taking away `cause`, the first success of each repair.
  static std::vector<Way> ways(const Simulation& job, std::size_t cause) {
    std::vector<Way> found;
    for (const plan::CourseStep& step : job.workshop().steps()) {
      const bool removes = std::any_of(step.removals.begin(), step.removals.end(),
                                       [&](const auto& one) { return one.cause == cause; });
      if (step.look || !removes) continue;
      const double success = success_of(job.world().model(), {0, step.repair, cause, 1, 1});
      for (std::size_t nth = 0; nth < kMostTries; ++nth) {
        if (!job.world().succeeds(step.repair, cause, success, nth)) continue;
        found.push_back({&step, nth + 1});
        break;
      }
    }
    return found;
  }

  static double minutes(const Simulation& job, const std::vector<Way>& chosen) {
    OpenLayers open;
    double work = job.workshop().verify_minutes();
    for (const Way& way : chosen) {
      open = open | way.step->need.open;
      work += static_cast<double>(way.tries) * job.repair_minutes(way.step->repair, 1);
    }
    const Access& access = job.workshop().access();
    return work + access.minutes({}, open).total() + access.minutes(open, {}).total();
  }

  void choose(const Simulation& job, const std::vector<std::size_t>& causes, std::size_t next,
              std::vector<Way>& chosen) {
    if (next == causes.size()) {
      const double total = minutes(job, chosen);
      if (total >= best_minutes_) return;
      best_minutes_ = total;
      best_ = chosen;
      return;
    }
    for (const Way& way : ways(job, causes[next])) {
      const auto same = std::find_if(chosen.begin(), chosen.end(),
                                     [&](const Way& one) { return one.step == way.step; });
      if (same == chosen.end()) {
        chosen.push_back(way);
        choose(job, causes, next + 1, chosen);
        chosen.pop_back();
        continue;
      }
      const std::size_t before = same->tries;
      const auto at = same - chosen.begin();
      chosen[static_cast<std::size_t>(at)].tries = std::max(before, way.tries);
      choose(job, causes, next + 1, chosen);
      chosen[static_cast<std::size_t>(at)].tries = before;
    }
  }

  double best_minutes_ = 0;
  std::vector<Way> best_;
};

}  // namespace

std::unique_ptr<Policy> truth_policy(const Settings&) { return std::make_unique<TruthPolicy>(); }

}  // namespace tickover::trial
