#include <algorithm>

#include "engine/plan/point.hpp"

namespace tickover::plan {
namespace {

/// Of what a point costs above a cure known for free, the share that planning on from there is
/// expected to save, before any point has shown it.
constexpr double kSavable = 0.05;
/// Minutes that looking further must promise.
constexpr double kLeastPromise = 0.2;
/// A point that rests on fewer draws is not looked at: the best of many rough values would be too
/// good.
constexpr double kLeastDraws = 30;

}  // namespace

/// What planning on saves at points so many steps ahead, of all that those looked at cost above
/// cures known for free. Guessed at first; what is seen counts for more the more there is of it.
void Lookahead::update() {
  savable_.clear();
  foresee(*root_, 0);
  std::vector<std::pair<double, double>> seen;
  add_savings(*root_, 0, seen);
  const double guessed = root_->course.expected_minutes - root_->free;
  for (const auto& [costs, saved] : seen) {
    const double all = costs + guessed;
    savable_.push_back(all > 0 ? (saved + kSavable * guessed) / all : 0);
  }
  foresee(*root_, 0);
}

/// Adds up by steps ahead: costs above cures known for free, and what was saved of them.
void Lookahead::add_savings(const Point& point, std::size_t ahead,
                            std::vector<std::pair<double, double>>& seen) {
  if (!point.expanded) return;
  if (seen.size() <= ahead) seen.resize(ahead + 1);
  seen[ahead].first += point.course.expected_minutes - point.free;
  seen[ahead].second += point.course.expected_minutes - point.price;
  for (const Branching& branching : point.branchings) {
    for (const auto& [probability, then] : branching.results) add_savings(*then, ahead + 1, seen);
  }
}

double Lookahead::savable(std::size_t ahead) const {
  return ahead < savable_.size() ? savable_[ahead] : kSavable;
}

/// What each point will cost: of those not looked at, as much is taken off as others show.
void Lookahead::foresee(Point& point, std::size_t ahead) const {
  point.price = point.expected = point.course.expected_minutes;
  if (!point.expanded) point.expected -= savable(ahead) * (point.expected - point.free);
  for (Branching& branching : point.branchings) {
    branching.price = branching.fixed;
    branching.expected = branching.fixed - savable(ahead + 1) * branching.savable;
    for (auto& [probability, then] : branching.results) {
      foresee(*then, ahead + 1);
      branching.price += probability * then->price;
      branching.expected += probability * then->expected;
    }
    point.price = std::min(point.price, branching.price);
    point.expected = std::min(point.expected, branching.expected);
  }
}

/// Along what is best as far as is foreseen: the point, not looked at yet, of which most is only
/// foreseen, as often as it is reached.
void Lookahead::find_open(Point& point, std::size_t ahead, double reach, Point*& found,
                          double& promise) const {
  if (!point.expanded) {
    const double its = reach * savable(ahead) * (point.course.expected_minutes - point.free);
    if (its <= promise || point.sample->effective_draws(point.weights) < kLeastDraws) return;
    promise = its;
    found = &point;
    return;
  }
  for (Branching& branching : point.branchings) {
    if (branching.expected > point.expected) continue;
    for (auto& [probability, then] : branching.results) {
      find_open(*then, ahead + 1, reach * probability, found, promise);
    }
  }
}

void Lookahead::look_further(const Effort& effort) {
  while (points_ < effort.points && effort.go_on()) {
    double promise = kLeastPromise;
    Point* next = nullptr;
    find_open(*root_, 0, 1, next, promise);
    if (!next) return;
    expand(*next);
    ++points_;
    update();
  }
}

double Lookahead::farther(std::size_t option) const {
  for (const Branching& branching : root_->branchings) {
    if (branching.option == option) return std::max(branching.one_step - branching.expected, 0.0);
  }
  return 0;
}

double Lookahead::farther_course() const {
  const double course = root_->course.expected_minutes;
  for (const Branching& branching : root_->branchings) {
    if (branching.option == kCourse) return std::max(course - branching.expected, 0.0);
  }
  return 0;
}

}  // namespace tickover::plan
