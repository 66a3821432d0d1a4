/// @file
/// Looking ahead over scenarios: which options deserve an exact look, and what more than one step
/// of foresight saves.
#pragma once

#include <map>
#include <memory>
#include <vector>

#include "engine/belief/ground.hpp"
#include "engine/plan/advise.hpp"
#include "engine/plan/results.hpp"
#include "engine/plan/sample.hpp"

namespace tickover::plan {

/// A tree of what may be done and learnt, over one sample of the posterior. A point costs the least
/// of a fixed course from there, of every check and question with what follows each result, and of
/// the course's first batch with a new plan if it fails. Points not yet looked at are expected to
/// cost as much less than their course as those looked at do on average, so that what was looked
/// into is not preferred for that alone. The next point looked at lies on the best plan as far as
/// is foreseen (AO* with an estimate that is not admissible: Nilsson 1980; scenarios as in Somani,
/// Ye, Hsu & Lee 2013, both from memory). Points that rest on few scenarios are left alone.
class Lookahead {
 public:
  /// `now` is the course from the present belief: the scenarios' own is never held to be dearer.
  Lookahead(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
            std::vector<std::size_t> looked, std::shared_ptr<const Sample> sample,
            const Course& now);
  ~Lookahead();

  /// What can be done now, with expected minutes by one step of lookahead (estimated).
  const std::vector<Proposal>& options() const;

  /// What the present course costs by the scenarios.
  double course_minutes() const;

  /// Looks further ahead, along the most promising options.
  void look_further(const Effort& effort);

  /// Minutes that looking further takes off an option, or off the course; not below 0. None off an
  /// option that tells nothing: whatever it puts off costs as much after it.
  double farther(std::size_t option) const;
  double farther_course() const;
  std::size_t points() const { return points_; }  ///< looked at so far, the present one aside

 private:
  struct Point;
  struct Branching;
  struct Reply {
    Answer answer;
    std::vector<double> likelihood;  ///< per scenario
  };
  using Replies = std::map<std::size_t, std::vector<Reply>>;  ///< by instance

  /// Branching::option of the course's first batch.
  static constexpr std::size_t kCourse = static_cast<std::size_t>(-1);

  const std::vector<Reply>& replies(Point& point, std::size_t instance);
  void follow(Point& point, const std::vector<std::size_t>& instances, const Point& so_far,
              Branching& out);
  double told_by(Point& point, const std::vector<std::size_t>& instances);
  std::vector<std::size_t> instances_of(const Proposal& option) const;
  std::vector<std::size_t> worth_a_thought(const Point& point, const std::vector<Proposal>& options,
                                           const std::vector<double>& told) const;
  Branching branch(Point& point, const Proposal& option, double told);
  double nothing_learnt(Point& point, const OpenLayers& open);
  void expand(Point& point);
  void add_failure(Point& point);
  static void keep_cheapest(std::vector<Branching>& branchings, std::size_t count);
  void plan_from(Point& point, const Course* known) const;
  void update();
  static void add_savings(const Point& point, std::size_t ahead,
                          std::vector<std::pair<double, double>>& seen);
  double savable(std::size_t ahead) const;
  void foresee(Point& point, std::size_t ahead) const;
  void find_open(Point& point, std::size_t ahead, double reach, Point*& found,
                 double& promise) const;
  double known_for_free(const Point& point) const;

  const Workshop& workshop_;
  const belief::Ground& ground_;
  const Evidence& evidence_;
  std::map<std::size_t, std::vector<Answer>> answers_;  ///< by instance
  std::vector<double> cure_minutes_;                    ///< per cause: least that removing it takes
  std::unique_ptr<Point> root_;
  std::vector<Proposal> options_;
  /// By steps ahead: the share of what points cost above cures known for free that planning on
  /// saves.
  std::vector<double> savable_;
  std::size_t points_ = 0;
};

}  // namespace tickover::plan
