/// @file
/// What a decision is worth where nothing more is learnt: courses from the present belief, and from
/// what it would be after a result.
#pragma once

#include <memory>
#include <utility>
#include <vector>

#include "engine/belief/infer.hpp"
#include "engine/plan/course.hpp"
#include "engine/plan/sample.hpp"

namespace tickover::plan {

/// Minutes by which one must be cheaper to be so: not by rounding alone, else the last bit would
/// choose.
constexpr double kByMore = 1e-6;

/// Courses of one case, planned and priced exactly; in wide cases planned over scenarios.
class Leaves {
 public:
  /// `given` must stay and may hold a result when `after` is asked; `complaint` are nodes of the
  /// network. With `exact`, the present course is priced exactly however long that takes.
  Leaves(const Workshop& workshop, const Evidence& evidence, const belief::Case& given,
         std::vector<std::size_t> complaint, bool exact);

  /// Takes another belief, `base`, that of `given` as it now stands.
  void start(const belief::Belief& base);
  /// Takes `planned` for the present course if that is cheaper, and says so.
  bool consider(const Course& planned);
  /// The present course as it treats like places alike (plan::evened).
  void even_out();
  /// `course` is the present one; priced from the present belief.
  void take(Course course);

  const Workshop& workshop() const { return workshop_; }
  const Course& now() const { return now_; }
  /// From the present belief, the present course after these repairs; see plan::begun_with and
  /// plan::begun_apart.
  Course begun_with(const std::vector<CourseStep>& repairs);
  Course begun_apart(const std::vector<CourseStep>& repairs);
  /// The cheapest of `planned`, the present course and, where that is narrow, the greedy one,
  /// evened (plan::evened), once it is known what `given` then holds, of which `then` is the
  /// belief; `looked_now` are the inspections among it.
  Course after(const belief::Belief& then, const std::vector<std::size_t>& looked_now,
               const OpenLayers& open, const Course& planned);
  /// Minutes of the present course from another state of access when nothing more is known: done
  /// from there, what wants shut what is open there put off, or going back first, whichever is
  /// cheaper.
  double nothing_learnt(const OpenLayers& there);

  /// Cases with more bits open at once are wide.
  static constexpr std::size_t kNarrow = 9;
  /// Sweeps take so long that only what is told in full is worked out exactly.
  bool wide() const { return wide_; }
  /// P(complaint gone) after removals, from the present belief; `given` must hold no result when
  /// first asked.
  Cures& cures();
  const Done& done() const { return done_; }
  /// Of the present belief.
  std::shared_ptr<const Sample> sample() const { return sample_; }

 private:
  Course course_now();
  Course along(Cures& cures, const Course& planned) const;
  Situation situation();  ///< the present one, exactly
  bool unverified() const { return evidence_.repairs_since_verify > 0; }

  const Workshop& workshop_;
  const Evidence& evidence_;
  const belief::Case& given_;
  const std::vector<std::size_t> complaint_;
  const bool exact_;
  const belief::Belief* base_ = nullptr;
  bool wide_ = false;
  const Done done_;
  std::shared_ptr<const Sample> sample_;
  ExactCures cures_, cures_after_;
  bool posed_ = false;  ///< cures_ is of the present belief
  Course now_;
  std::vector<std::pair<OpenLayers, double>> elsewhere_;  ///< answers of nothing_learnt
};

}  // namespace tickover::plan
