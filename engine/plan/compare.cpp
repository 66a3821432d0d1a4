#include "engine/plan/compare.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/belief/decide.hpp"
#include "engine/plan/exact_prices.hpp"
#include "engine/plan/leaves.hpp"
#include "engine/plan/lookahead.hpp"

namespace tickover::plan {
namespace {

/// Odds are not tilted by more than about a factor of 3000 to make another action come first.
constexpr double kFarthestTilt = 8;
constexpr std::size_t kCausesTried = 3;

class Scales {
 public:
  Scales(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
         const Course& course_now, const Proposal& first)
      : workshop_(workshop),
        ground_(ground),
        evidence_(evidence),
        course_now_(course_now),
        first_(first),
        given_(belief::decided(ground.given(evidence), kDoubt)),
        complaint_(ground.nodes_of(evidence.complaint)),
        leaves_(workshop, evidence, given_, complaint_, true),
        exact_(workshop.model(), ground_, given_, base_, solver_, leaves_) {
    start();
  }

  Comparison weigh(const Proposal& other) {
    Comparison told = weigh(other.decides, [&] { return price(other); });
    const More more = more_than_first(workshop_, evidence_.open_layers, other, told.more_minutes);
    told.more_minutes = more.minutes;
    told.besides = more.besides;
    return told;
  }

  std::optional<Comparison> weigh(std::size_t repair) {
    const std::vector<std::vector<CourseStep>> ways = ways_of(repair);
    if (ways.empty()) return std::nullopt;
    const std::vector<CourseStep> steps = cheapest(ways);
    Comparison told = weigh(most_probable_of(steps), [&] { return price(steps); });
    Batch batch;
    batch.steps = steps;
    told.repair = first_step(workshop_, evidence_.open_layers, batch);
    return told;
  }

 private:
  using Answer = std::function<double()>;

  Comparison weigh(std::vector<std::size_t> causes, const Answer& price_other) {
    const auto more = [&] { return price_other() - price_of_first(); };
    Comparison told;
    told.more_minutes = more();
    told.too_wide = leaves_.wide();
    if (told.too_wide) return told;
    for (const std::size_t cause : first_.decides) {
      if (std::count(causes.begin(), causes.end(), cause) == 0) causes.push_back(cause);
    }
    double nearest = kFarthestTilt;
    for (const std::size_t cause : causes) {
      for (const double towards : {1.0, -1.0}) {
        const double tilt = tilt_to_draw(cause, towards, nearest, more);
        if (!(std::abs(tilt) < nearest)) continue;
        nearest = std::abs(tilt);
        told.cause = cause;
        told.now = chance_tilted(cause, 0);
        told.at_draw = chance_tilted(cause, tilt);
      }
    }
    return told;
  }

  /// What both are judged from: the belief, and the course without any check.
  void start() {
    base_ = solver_.infer(given_);
    leaves_.start(base_);
    if (!leaves_.sample()->scenes().empty()) {
      lookahead_.emplace(workshop_, ground_, evidence_, leaves_.done(), leaves_.sample(),
                         leaves_.now());
      leaves_.consider(lookahead_->course());
    }
    leaves_.consider(course_now_);
    leaves_.even_out();
    minutes_of_first_.reset();
  }

  double price_of_first() {
    if (!minutes_of_first_) minutes_of_first_ = price(first_);
    return *minutes_of_first_;
  }

  /// The proposal's expected minutes as the belief now stands.
  double price(const Proposal& proposal) {
    if (proposal.kind == ActionKind::hand_on) {
      return workshop_.access().minutes(evidence_.open_layers, {}).close +
             workshop_.hand_on_minutes();
    }
    if (proposal.kind != ActionKind::check && proposal.kind != ActionKind::ask) {
      return leaves_.now().expected_minutes - proposal.farther;
    }
    Proposal again = proposal;
    exact_.price(again);
    return again.expected_minutes;
  }

  /// The repairs, and as the course goes on, with or without checks where they are in vain: checks
  /// are taken to spare the same share of what the course costs as they do now.
  double price(const std::vector<CourseStep>& repairs) {
    const Course apart = leaves_.begun_apart(repairs);
    const Batch& batch = apart.batches.front();
    const double first =
        batch.minutes + batch.parts + (1 - batch.cured_after) * workshop_.comeback_minutes();
    const double share = std::min(price_of_first() / leaves_.now().expected_minutes, 1.0);
    return std::min(first + share * (apart.expected_minutes - first),
                    leaves_.begun_with(repairs).expected_minutes);
  }

  /// The repair at all its places, and at each.
  std::vector<std::vector<CourseStep>> ways_of(std::size_t repair) const {
    std::vector<std::vector<CourseStep>> ways(1);
    for (const CourseStep& step : workshop_.steps()) {
      if (step.repair == repair && !step.look) ways.front().push_back(step);
    }
    if (ways.front().empty()) return {};
    const std::vector<CourseStep> all = ways.front();
    if (all.size() > 1) {
      for (const CourseStep& step : all) ways.push_back({step});
    }
    return ways;
  }

  /// The first of those that cost least.
  std::vector<CourseStep> cheapest(const std::vector<std::vector<CourseStep>>& ways) {
    std::vector<CourseStep> best;
    double least = std::numeric_limits<double>::infinity();
    for (const std::vector<CourseStep>& steps : ways) {
      const double its = price(steps);
      if (!(its < least - kByMore)) continue;
      least = its;
      best = steps;
    }
    return best;
  }

  std::vector<std::size_t> most_probable_of(const std::vector<CourseStep>& repairs) const {
    std::vector<double> present(base_.present_now.size(), 0);
    for (const CourseStep& step : repairs) {
      for (const belief::Removal& one : step.removals) {
        present[one.cause] = base_.present_now[one.cause];
      }
    }
    std::vector<std::size_t> causes = belief::largest_first(present, kCausesTried);
    std::erase_if(causes, [&](std::size_t cause) { return !(present[cause] > 0); });
    return causes;
  }

  /// P(cause) once its odds are multiplied by exp(tilt).
  double chance_tilted(std::size_t cause, double tilt) const {
    const double p = base_.present_now[cause];
    return p / (p + (1 - p) * std::exp(-tilt));
  }

  /// What `answer` is with the odds of `cause` multiplied by exp(tilt).
  double tilted(std::size_t cause, double tilt, const Answer& answer) {
    const belief::Belief untilted = base_;
    given_.seen.push_back(
        {cause, given_.now, std::exp(std::min(tilt, 0.0)), std::exp(std::min(-tilt, 0.0)), 0});
    start();
    const double its = answer();
    given_.seen.pop_back();
    base_ = untilted;
    return its;
  }

  /// The smallest change of log-odds, within `farthest`, at which there is nothing `more` to pay;
  /// looked for in steps that double, then halved to where a bench does not care.
  double tilt_to_draw(std::size_t cause, double towards, double farthest, const Answer& more) {
    constexpr double kFirstStep = 0.5, kFineEnough = 0.1;
    double near = 0, far = kFirstStep;
    while (tilted(cause, towards * far, more) > 0) {
      near = far;
      far *= 2;
      if (near >= farthest) return kFarthestTilt;
    }
    while (far - near > kFineEnough) {
      const double middle = (near + far) / 2;
      (tilted(cause, towards * middle, more) > 0 ? near : far) = middle;
    }
    return towards * far;
  }

  const Workshop& workshop_;
  const belief::Ground& ground_;
  const Evidence& evidence_;
  const Course& course_now_;
  const Proposal& first_;
  belief::Case given_;
  belief::Belief base_;
  const std::vector<std::size_t> complaint_;
  belief::Solver solver_;
  Leaves leaves_;
  ExactPrices exact_;
  std::optional<Lookahead> lookahead_;
  std::optional<double> minutes_of_first_;  ///< once it is known, as the belief now stands
};

}  // namespace

Comparison compare(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
                   const Course& course_now, const Proposal& first, const Proposal& other) {
  return Scales(workshop, ground, evidence, course_now, first).weigh(other);
}

std::optional<Comparison> compare(const Workshop& workshop, const belief::Ground& ground,
                                  const Evidence& evidence, const Course& course_now,
                                  const Proposal& first, std::size_t repair) {
  return Scales(workshop, ground, evidence, course_now, first).weigh(repair);
}

}  // namespace tickover::plan
