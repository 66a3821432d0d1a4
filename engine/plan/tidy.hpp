/// @file
/// Courses as they are gone.
#pragma once

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// Leaves out what a later repair of the same batch does as well: steps are chosen one by one, and
/// a repair that mends more can make an earlier look or repair needless. True where something was.
bool leave_out_needless(Course& course);

}  // namespace tickover::plan
