#include <algorithm>

#include "engine/plan/point.hpp"

namespace tickover::plan {
namespace {

/// Share of the price of handing on that looking further must promise.
constexpr double kLeastPromise = 2e-4;
/// A point that rests on fewer draws is not looked at: the best of many rough values would be too
/// good.
constexpr double kLeastDraws = 30;
/// Plans after repairs in vain for which replies are kept.
constexpr std::size_t kRemembered = 1;

}  // namespace

/// What planning on saves at points so many steps ahead, of all that those looked at cost above
/// cures known for free. What it saves now is the guess; what is seen there counts for more the
/// more there is of it.
void Lookahead::update() {
  savable_.clear();
  foresee(*root_, 0);
  std::vector<std::pair<double, double>> seen;
  add_savings(*root_, 0, seen);
  const auto [costs_now, saved_now] = seen.front();
  for (const auto& [costs, saved] : seen) {
    const double all = costs + costs_now;
    savable_.push_back(all > 0 ? (saved + saved_now) / all : 0);
  }
  foresee(*root_, 0);
}

/// Adds up by steps ahead: costs above cures known for free, and what was saved of them.
void Lookahead::add_savings(const Point& point, std::size_t ahead,
                            std::vector<std::pair<double, double>>& seen) {
  if (!point.expanded) return;
  if (seen.size() <= ahead) seen.resize(ahead + 1);
  seen[ahead].first += point.course.minutes - point.free;
  seen[ahead].second += point.course.minutes - point.price;
  for (const Branching& branching : point.branchings) {
    for (const Outcome& one : branching.outcomes) add_savings(*one.then, ahead + 1, seen);
  }
}

double Lookahead::savable(std::size_t ahead) const {
  if (savable_.empty()) return 0;
  return ahead < savable_.size() ? savable_[ahead] : savable_.front();
}

/// What each point will cost: of those not looked at, as much is taken off as others show. Where
/// nothing is learnt planning on saves what it saves without the check, and no more.
void Lookahead::foresee(Point& point, std::size_t ahead) const {
  const double course = point.course.minutes;
  point.price = point.expected = course;
  if (!point.expanded) point.expected -= savable(ahead) * (course - point.free);
  for (Branching& branching : point.branchings) {
    branching.price = branching.expected = branching.fixed;
    for (const Outcome& one : branching.outcomes) {
      foresee(*one.then, ahead + 1);
      branching.price += one.probability * one.then->price;
      branching.expected += one.probability * one.then->expected;
    }
    point.price = std::min(point.price, branching.price);
    point.expected = std::min(point.expected, branching.expected);
  }
  const double saved = course - point.expected;
  for (Branching& branching : point.branchings) branching.expected -= branching.nothing * saved;
}

/// Along what is best as far as is foreseen: the point, not looked at yet, of which most is only
/// foreseen, as often as it is reached.
void Lookahead::find_open(Point& point, std::size_t ahead, double reach, Point*& found,
                          double& promise) const {
  if (!point.expanded) {
    const double its = reach * savable(ahead) * (point.course.minutes - point.free);
    if (its <= promise || point.basis->sample->effective_draws(point.weights) < kLeastDraws) return;
    promise = its;
    found = &point;
    return;
  }
  double cheapest = point.course.minutes;
  for (const Branching& branching : point.branchings) {
    cheapest = std::min(cheapest, branching.expected);
  }
  for (Branching& branching : point.branchings) {
    if (branching.expected > cheapest) continue;
    for (const Outcome& one : branching.outcomes) {
      find_open(*one.then, ahead + 1, reach * one.probability, found, promise);
    }
  }
}

/// Replies are long: they are kept for the present, and where points were looked at last.
void Lookahead::forget_replies(const std::shared_ptr<Basis>& used) {
  if (used == root_->basis) return;
  std::erase(with_replies_, used);
  with_replies_.push_back(used);
  if (with_replies_.size() <= kRemembered) return;
  with_replies_.front()->replies.clear();
  with_replies_.erase(with_replies_.begin());
}

void Lookahead::look_further(const Effort& effort) {
  while (points_ < effort.points && effort.go_on()) {
    double promise = kLeastPromise * workshop_.hand_on_minutes();
    Point* next = nullptr;
    find_open(*root_, 0, 1, next, promise);
    if (!next) return;
    expand(*next);
    forget_replies(next->basis);
    ++points_;
    update();
  }
}

double Lookahead::farther(std::size_t option) const {
  for (const Branching& branching : root_->branchings) {
    if (branching.option != option || branching.outcomes.empty()) continue;
    return std::max(branching.one_step - branching.expected, 0.0);
  }
  return 0;
}

double Lookahead::farther_course() const {
  const double course = root_->course.minutes;
  for (const Branching& branching : root_->branchings) {
    if (branching.option == kCourse) return std::max(course - branching.expected, 0.0);
  }
  return 0;
}

}  // namespace tickover::plan
