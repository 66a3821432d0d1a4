/// @file
/// Courses as they are gone.
#pragma once

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// Looks before repairs: those that want something shut first, the others by how much must be
/// opened for them; what is set on the running engine comes last. Otherwise as they were. `batch`
/// must stay.
std::vector<const CourseStep*> in_working_order(const Access& access,
                                                std::vector<const CourseStep*> steps);
std::vector<const CourseStep*> in_working_order(const Access& access, const Batch& batch);

/// Leaves out what a later repair of the same batch does as well: steps are chosen one by one, and
/// a repair that mends more can make an earlier look or repair needless. True where something was.
bool leave_out_needless(Course& course);

}  // namespace tickover::plan
