/// @file
/// Places that nothing tells apart are treated alike.
#pragma once

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// The course that takes all its steps at every place where the same step mends what is as
/// probable, or else none of those that it takes at some of them, whichever is cheaper and dearer
/// by no more than half a per cent: nobody cleans two of four jets of which nothing is known, and
/// what scenarios have hit is no reason to. The course itself where that is dearer, or there is
/// nothing to even.
Course evened(const Workshop& workshop, const Situation& situation, Course course);

}  // namespace tickover::plan
