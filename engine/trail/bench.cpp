#include "engine/trail/bench.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "engine/belief/weigh.hpp"
#include "engine/trail/trail.hpp"

namespace tickover {
namespace {

/// Belief before and after an entry, all later ones left out.
struct Step {
  belief::Belief before, after;
};

double odds_decibans(double p) {
  return std::clamp(belief::decibans(p / (1 - p)), -belief::kMostDecibans, belief::kMostDecibans);
}

class BenchMaker {
 public:
  explicit BenchMaker(const Diagnosis& job) : job_(job), model_(job.model()) {}

  std::vector<BenchLine> make() {
    weigh();
    std::vector<BenchLine> lines;
    for (std::size_t i = 0; i < model_.pack.findings.size(); ++i) {
      if (model_.pack.findings[i].kind != pack::Kind::reading) continue;
      BenchLine line{i, checks_of(i), places_of(i)};
      if (!line.places.empty() && (can_be_measured(i) || line.touched()))
        lines.push_back(std::move(line));
    }
    return lines;
  }

 private:
  void weigh() {
    const belief::Case given = job_.judged();
    std::set<std::size_t> wanted;
    for (const Observation& seen : job_.evidence().observations) {
      if (seen.reading) wanted.insert(seen.entry);
    }
    for (const std::size_t entry : wanted) {
      steps_.emplace(entry, Step{belief::infer(belief::up_to(given, entry - 1)),
                                 belief::infer(belief::up_to(given, entry))});
    }
  }

  /// Not where every check for it is made for other machines.
  bool can_be_measured(std::size_t finding) const {
    const std::vector<pack::Check>& checks = model_.pack.checks;
    return !checks_of(finding).empty() ||
           std::none_of(checks.begin(), checks.end(),
                        [&](const pack::Check& check) { return check.finding == finding; });
  }

  std::vector<std::size_t> checks_of(std::size_t finding) const {
    std::vector<std::size_t> checks;
    for (std::size_t i = 0; i < model_.pack.checks.size(); ++i) {
      const pack::Check& check = model_.pack.checks[i];
      if (check.finding == finding && model_.applies(check.needs)) checks.push_back(i);
    }
    return checks;
  }

  std::vector<BenchPlace> places_of(std::size_t finding) const {
    std::vector<BenchPlace> places;
    for (std::size_t i = 0; i < model_.findings.size(); ++i) {
      if (model_.findings[i].finding != finding) continue;
      const std::vector<Observation>& told = job_.evidence().told;
      places.push_back({i, model_.findings[i].place, taken_at(i),
                        std::any_of(told.begin(), told.end(),
                                    [&](const Observation& one) { return one.finding == i; })});
    }
    return places;
  }

  std::vector<BenchReading> taken_at(std::size_t instance) const {
    std::vector<BenchReading> taken;
    for (const Observation& seen : job_.evidence().observations) {
      if (seen.finding != instance || !seen.reading) continue;
      const bool left = as_left(job_, seen);
      taken.push_back({seen, left, verdict(model_, seen), speaks_for(seen, left)});
    }
    return taken;
  }

  std::vector<Speaks> speaks_for(const Observation& seen, bool left) const {
    const Step& step = steps_.at(seen.entry);
    const auto present = [&](const belief::Belief& belief, std::size_t cause) {
      return odds_decibans(left ? belief.present_now[cause] : belief.present_at_start[cause]);
    };
    std::vector<Speaks> speaks;
    for (const LinkInstance& link : model_.findings[seen.finding].links) {
      const double weight = present(step.after, link.cause) - present(step.before, link.cause);
      if (std::abs(weight) >= kLeastDecibans) speaks.push_back({link.cause, weight});
    }
    std::stable_sort(speaks.begin(), speaks.end(), [](const Speaks& a, const Speaks& b) {
      return std::abs(a.decibans) > std::abs(b.decibans);
    });
    return speaks;
  }

  const Diagnosis& job_;
  const Model& model_;
  std::map<std::size_t, Step> steps_;  ///< by entry
};

}  // namespace

std::vector<BenchLine> make_bench(const Diagnosis& job) { return BenchMaker(job).make(); }

}  // namespace tickover
