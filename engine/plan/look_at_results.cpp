#include <algorithm>

#include "engine/foundation/vectors.hpp"
#include "engine/plan/point.hpp"

namespace tickover::plan {

Done Lookahead::done_at(const Point& point) const {
  return after_looking(point.basis->done, workshop_.model(), point.answered);
}

/// The course is known from here on: where the causes repaired before that were looked at by now
/// are looked at, since the next repair of those starts afresh.
void Lookahead::add(const Point& point, Course course) const {
  Basis& basis = *point.basis;
  std::vector<std::size_t> since;
  for (const std::size_t instance : point.answered) {
    const std::optional<std::size_t> cause = workshop_.model().findings[instance].cause;
    if (cause && basis.done.attempts.any(*cause)) since.push_back(instance);
  }
  if (since.empty()) return basis.repertoire.add(std::move(course));
  basis.repertoire.add(std::move(course), done_at(point), std::move(since));
}

/// What the instance may answer, and how likely each scenario makes it.
const Lookahead::Replies& Lookahead::replies(Basis& basis, std::size_t instance) {
  const auto [at, fresh] = basis.replies.try_emplace(instance);
  if (!fresh) return at->second;
  const std::vector<Answer>& answers = workshop_.answers(instance);
  std::vector<belief::Case> cases(answers.size());
  for (std::size_t i = 0; i < answers.size(); ++i) ground_.observe(cases[i], answers[i].seen);
  at->second = basis.sample->likelihoods(cases);
  return at->second;
}

/// How much of the probability the answers move: the mean total variation distance, summed over
/// the places.
double Lookahead::told_by(Point& point, const std::vector<std::size_t>& instances) {
  const std::vector<double>& weights = point.weights;
  double moved = 0;
  for (const std::size_t instance : instances) {
    const Replies& all = replies(*point.basis, instance);
    const bool either = all.size() == 2;  // what one of two moves, the other moves back
    for (std::size_t r = either ? 1 : 0; r < all.size(); ++r) {
      const double mean = inner(weights.data(), all[r].data(), weights.size()) / point.total;
      moved += mean_distance(weights.data(), all[r].data(), weights.size(), mean) /
               (either ? point.total : 2 * point.total);
    }
  }
  return moved;
}

/// The joint answers of the instances, one after the other, as far as they are likely.
void Lookahead::follow(Point& point, const std::vector<std::size_t>& instances,
                       const Outcome& so_far, Branching& out) {
  const std::size_t done = so_far.replies.size();
  if (done == instances.size()) {
    out.outcomes.push_back(so_far);
    return;
  }
  const std::size_t instance = instances[done];
  const Replies& all = replies(*point.basis, instance);
  for (std::size_t r = 0; r < all.size(); ++r) {
    Outcome next = so_far;
    next.then = std::make_shared<Point>(*so_far.then);
    Point& then = *next.then;
    multiply(then.weights.data(), all[r].data(), then.weights.size());
    weigh(then);
    next.probability = then.total / point.total;
    if (!(next.probability > kLeastResult)) continue;
    next.replies.push_back(static_cast<std::uint8_t>(r));
    add_sorted(then.answered, instance);
    follow(point, instances, next, out);
  }
}

/// An option with what may follow, not priced yet.
Lookahead::Branching Lookahead::branch(Point& point, const Proposal& option, bool tells) {
  Branching out;
  out.open = option.open_after;
  out.minutes = option.minutes() + option.consumables;
  out.getting_there = option.access.total();
  if (tells) {
    const auto start = std::make_shared<Point>();
    start->basis = point.basis;
    start->weights = point.weights;
    start->answered = point.answered;
    start->open = option.open_after;
    follow(point, instances_of(workshop_.model(), option), {1, {}, start}, out);
  }
  double foreseen = 0;
  for (const Outcome& outcome : out.outcomes) {
    adapt(point, *outcome.then);
    foreseen += outcome.probability;
  }
  out.nothing = std::max(1 - foreseen, 0.0);
  return out;
}

std::vector<Forecast> Lookahead::forecasts(const Proposal& proposal) {
  std::vector<Forecast> told;
  for (Branching& branching : root_->branchings) {
    if (branching.option == kCourse) continue;
    const Proposal& option = options_[branching.option];
    if (option.kind != proposal.kind || option.index != proposal.index ||
        option.places != proposal.places) {
      continue;
    }
    plan_for_results(branching);
    const std::vector<std::size_t> instances = instances_of(workshop_.model(), option);
    for (const Outcome& outcome : branching.outcomes) {
      settle(*outcome.then);
      Forecast& forecast = told.emplace_back();
      for (std::size_t i = 0; i < instances.size(); ++i) {
        const Answer& answer = workshop_.answers(instances[i])[outcome.replies[i]];
        forecast.answers.emplace_back(option.places[i], answer.id);
        forecast.observations.push_back(answer.seen);
        forecast.observations.back().epoch = epoch_told(workshop_.model(), evidence_, instances[i]);
      }
      forecast.probability = outcome.probability;
      forecast.expected_minutes = outcome.then->course.minutes;
      forecast.course = root_->basis->repertoire.course(outcome.then->course.course);
    }
  }
  return told;
}

}  // namespace tickover::plan
