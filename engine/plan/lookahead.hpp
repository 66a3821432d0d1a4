/// @file
/// Looking ahead over scenarios: which options deserve an exact look, and what more than one step
/// of foresight saves.
#pragma once

#include <memory>
#include <vector>

#include "engine/belief/ground.hpp"
#include "engine/plan/advise.hpp"
#include "engine/plan/results.hpp"
#include "engine/plan/sample.hpp"

namespace tickover::plan {

/// How much is tried at the present point.
struct Breadth {
  std::size_t tried = 48;    ///< options priced with what follows their results
  std::size_t planned = 12;  ///< of those, the best for whose results courses are planned
  std::size_t blamed = 6;    ///< causes to blame for which courses are planned, at most
  bool failures = true;      ///< the course may be planned anew when its first batch was in vain
};

/// A tree of what may be done and learnt, over one sample of the posterior. A point costs the least
/// of the courses known (Repertoire), of every check and question with what follows each result,
/// and of the course's first batch with a new plan if it fails. Courses are planned for what is
/// most to blame now, and for the results of what looks best; all else is priced by those. Points
/// not yet looked at are expected to cost as much less than their course as those looked at do on
/// average, so that what was looked into is not preferred for that alone. The next point looked at
/// lies on the best plan as far as is foreseen (AO* with an estimate that is not admissible:
/// Nilsson 1980; scenarios as in Somani, Ye, Hsu & Lee 2013, both from memory). Points that rest on
/// few scenarios are left alone.
class Lookahead {
 public:
  /// Plans courses from the present belief; `now` is one that is known.
  Lookahead(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
            Done done, std::shared_ptr<const Sample> sample, const Course& now,
            const Breadth& breadth = {});
  ~Lookahead();

  /// Weighs the scenarios by what was observed since; answers the number of equally probable draws
  /// that they are still worth.
  double learn(const std::vector<Observation>& seen);
  /// What can be done now and costs least by one step of lookahead, on the scenarios' word alone;
  /// none where that is the course.
  std::optional<Proposal> cheapest();

  /// The cheapest course from the present belief, by the scenarios.
  const Course& course() const;

  /// Prices what can be done now, where `now` is the course without it. `all_open` as of
  /// Effort.
  void start(const Course& now, bool all_open);

  // Once started:

  /// Courses cheaper than the present one by the scenarios, of all that were planned for whatever
  /// purpose by now: the cheapest few, cheapest first.
  std::vector<Course> cheaper_courses() const;
  /// Prices everything anew, where `now` is the present course after all; what is looked at further
  /// is counted from here.
  void restart(const Course& now);

  /// What can be done now, with expected minutes by one step of lookahead (estimated).
  const std::vector<Proposal>& options() const { return options_; }

  /// The results of one of them that were followed, with the cheapest course after each, which is
  /// planned for by now.
  std::vector<Forecast> forecasts(const Proposal& option);

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
  struct Basis;
  struct Point;
  struct Branching;
  struct Outcome;
  /// How likely each scenario makes each of Workshop::answers.
  using Replies = std::vector<std::vector<double>>;

  /// Branching::option of the course's first batch.
  static constexpr std::size_t kCourse = static_cast<std::size_t>(-1);

  /// Point::known where the course is given.
  static constexpr std::size_t kFixed = static_cast<std::size_t>(-1);

  std::shared_ptr<Basis> basis_of(std::shared_ptr<const Sample> sample, Done done) const;
  const Replies& replies(Basis& basis, std::size_t instance);
  double told_by(Point& point, const std::vector<std::size_t>& instances);
  Branching branch(Point& point, const Proposal& option, bool tells);
  void follow(Point& point, const std::vector<std::size_t>& instances, const Outcome& so_far,
              Branching& out);
  void take(const Course& now);
  void tell_prices();
  void weigh(Point& point) const;
  void settle(Point& point) const;
  Done done_at(const Point& point) const;
  void add(const Point& point, Course course) const;
  void plan_for(const Point& point, const std::vector<double>& weights) const;
  void plan_for_culprits(const Point& point) const;
  void adapt(const Point& before, const Point& point) const;
  double nothing_learnt(const Point& point, const OpenLayers& open) const;
  void price(const Point& point, Branching& branching, double there) const;
  void price_all(Point& point) const;
  void plan_for_results(Branching& branching) const;
  void plan_for_open(Point& point) const;
  void plan_for_best(Point& point, std::size_t count) const;
  void expand(Point& point, bool all_open = false);
  void add_failure(Point& point) const;
  std::shared_ptr<Point> fail(Point& point) const;
  static const Course& course_of(const Point& point);
  static void keep_cheapest(std::vector<Branching>& branchings, std::size_t count);
  void forget_replies(const std::shared_ptr<Basis>& used);
  void update();
  static void add_savings(const Point& point, std::size_t ahead,
                          std::vector<std::pair<double, double>>& seen);
  double savable(std::size_t ahead) const;
  void foresee(Point& point, std::size_t ahead) const;
  void find_open(Point& point, std::size_t ahead, double reach, Point*& found,
                 double& promise) const;

  const Workshop& workshop_;
  const belief::Ground& ground_;
  const Evidence& evidence_;
  const Breadth breadth_;
  std::vector<double> cure_minutes_;  ///< per cause: least that removing it takes
  std::unique_ptr<Point> root_;
  std::vector<Proposal> options_;
  std::vector<std::shared_ptr<Basis>> with_replies_;  ///< not the present one, used last at the end
  /// By steps ahead: the share of what points cost above cures known for free that planning on
  /// saves.
  std::vector<double> savable_;
  std::size_t points_ = 0;
  bool results_planned_ = false;  ///< courses were planned for those of cheapest()
};

}  // namespace tickover::plan
