/// @file
/// Courses that are known over one sample, priced in each scenario: what a belief is worth without
/// planning anew.
#pragma once

#include <limits>
#include <utility>
#include <vector>

#include "engine/plan/course.hpp"
#include "engine/plan/gathered.hpp"
#include "engine/plan/sample.hpp"

namespace tickover::plan {

/// A course is fixed, so what it costs from a belief is linear in the weights of the scenarios: a
/// vector of prices says it for all beliefs, and the least of a few vectors is a value that never
/// lies below the best course's (alpha vectors: Smallwood & Sondik 1973; a few well chosen ones:
/// Pineau, Gordon & Thrun 2003, both from memory).
/// After a look the repair is paid as often as the look speaks for it in each scenario.
class Repertoire {
 public:
  /// A course, and its minutes as of Course::expected_minutes.
  struct Choice {
    std::size_t course = 0;
    double minutes = std::numeric_limits<double>::infinity();
  };

  /// Knows handing on at once, and nothing else. `done` is what was tried so far. Workshop and
  /// sample must stay.
  Repertoire(const Workshop& workshop, const Sample& sample, const Done& done);

  void add(Course course) { add(std::move(course), done_, {}); }
  /// One made where the inspections `since` (ascending), of causes repaired before, were answered,
  /// which leaves this as done: it is to be gone nowhere else.
  void add(Course course, const Done& done, std::vector<std::size_t> since);
  std::size_t size() const { return courses_.size(); }
  const Course& course(std::size_t index) const { return courses_[index].course; }

  /// A look of the course is among `answered` (Model::findings, ascending).
  bool looks_at(std::size_t course, const std::vector<std::size_t>& answered) const;
  /// It can be gone where these are answered.
  bool fits(std::size_t course, const std::vector<std::size_t>& answered) const;

  /// Minutes of a course's first batch (or of closing up) with `open` open.
  double first_minutes(std::size_t course, const OpenLayers& open) const;
  /// Minutes of all the rest, from the belief `weights`, which add up to `total`.
  double later_minutes(std::size_t course, const std::vector<double>& weights, double total) const;
  /// The cheapest of `so_far` and the courses from `first` on that fit what is `answered`.
  Choice cheapest(const std::vector<double>& weights, double total, const OpenLayers& open,
                  const std::vector<std::size_t>& answered, std::size_t first, Choice so_far) const;

 private:
  struct Priced {
    Course course;
    bool works = false;              ///< something is done or verified before handing on
    Gathered first;                  ///< of its first batch
    std::vector<double> later;       ///< per scenario: minutes besides the first batch
    std::vector<std::size_t> looks;  ///< instances, ascending
    std::vector<std::size_t> since;  ///< likewise
  };

  Priced priced(Course course, const Done& done) const;

  const Workshop& workshop_;
  const Sample& sample_;
  Done done_;
  std::vector<Priced> courses_;
  /// What first_minutes worked out: few states of access, asked for again and again.
  mutable std::vector<std::pair<OpenLayers, std::vector<double>>> first_;
};

}  // namespace tickover::plan
