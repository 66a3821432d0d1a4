/// @file
/// Places that nothing tells apart: what is planned for one does for the other.
#pragma once

#include <optional>
#include <vector>

#include "engine/plan/proposal.hpp"

namespace tickover::plan {

/// Two places that change their parts, cylinder by cylinder, with all that sits there.
class Exchange {
 public:
  /// Of the two places that answer in one result as the other does in the other result. None where
  /// the results differ in more or in less than that, or one place has more cylinders. The workshop
  /// must stay.
  static std::optional<Exchange> between(const Workshop& workshop, const Forecast& a,
                                         const Forecast& b);

  /// The course as it is gone once the places changed their parts; it is not priced. None where a
  /// step has no counterpart.
  std::optional<Course> moved(const Course& course) const;

 private:
  Exchange(const Workshop& workshop, const std::vector<std::size_t>& a,
           const std::vector<std::size_t>& b);

  std::optional<Place> moved(Place place) const;
  const CourseStep* moved(const CourseStep& step) const;

  const Workshop& workshop_;
  std::vector<std::size_t> counterpart_;  ///< of each cylinder, from 1
};

}  // namespace tickover::plan
