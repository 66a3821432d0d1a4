/// @file
/// Places that nothing tells apart are treated alike.
#pragma once

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// The course that takes each of its steps at every place where the same step mends what is as
/// probable, or else at none, where that is dearer by no more than half a per cent: nobody cleans
/// two of four jets of which nothing is known, and what scenarios have hit is no reason to. The
/// course itself where that is dearer, or there is nothing to even.
Course evened(const Workshop& workshop, const Situation& situation, Course course);

}  // namespace tickover::plan
