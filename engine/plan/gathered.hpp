/// @file
/// What the steps of a batch need together, and what the batch takes.
#pragma once

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// Whatever the order of the steps.
struct Gathered {
  double work = 0;     ///< minutes without opening and closing
  double parts = 0;    ///< expected parts and consumables, as minutes
  OpenLayers shut;     ///< not yet open at the looks that come first
  OpenLayers running;  ///< open for the running looks
  OpenLayers still;    ///< open for everything else
};

/// Of one step.
struct Expense {
  double work = 0, parts = 0;  ///< as of Gathered
  double total() const { return work + parts; }
};

/// Of one step: what is paid in any case, and what besides if its look speaks for the cause.
struct Charge {
  Expense sure, found;
};

/// What is done once for the job is not paid `again` in a batch. After a look the repair is paid
/// with going there from what is open then (`still`) and back.
Charge charge(const Workshop& workshop, const CourseStep& step, const OpenLayers& still,
              bool again);

/// What a step takes whatever else is in its batch.
double least_minutes(const CourseStep& step);

/// The repair of a step whose look has been answered.
CourseStep without_look(CourseStep step);

/// What one more step needs open.
void gather(Gathered& gathered, const CourseStep& step);

/// Open for the looks of a batch that come first, where it begins at `start`.
OpenLayers open_first(const Workshop& workshop, const Gathered& gathered, const OpenLayers& start);

/// Price of a whole batch in minutes, parts included, from `start`: looks that want something
/// shut first, then everything is opened that must be, then closed and verified.
double total_minutes(const Workshop& workshop, const Gathered& gathered, const OpenLayers& start);

}  // namespace tickover::plan
