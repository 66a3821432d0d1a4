/// @file
/// Courses as they are gone.
#pragma once

#include <functional>

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// First repairs that are `at_hand`. Looks before other repairs: those that want something shut
/// first, the others by how much must be opened for them; repairs the other way round, as the
/// machine is put together, and what is set on the running engine last. Otherwise as they were.
std::vector<const CourseStep*> in_working_order(
    const Access& access, std::vector<const CourseStep*> steps,
    const std::function<bool(const CourseStep&)>& at_hand);
/// The steps of a batch, which must stay.
std::vector<const CourseStep*> steps_of(const Batch& batch);

/// Leaves out what a later repair of the same batch does as well: steps are chosen one by one, and
/// a repair that mends more can make an earlier look or repair needless.
void leave_out_needless(Course& course);

}  // namespace tickover::plan
