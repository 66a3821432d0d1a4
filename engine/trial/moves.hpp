/// @file
/// What several policies do alike. Inside trial only.
#pragma once

#include "engine/plan/course.hpp"
#include "engine/trial/simulation.hpp"

namespace tickover::trial {

/// The first batch of a course as a mechanic does it: looks first, those for which the engine runs
/// before all others, each check at all its places at once. What a look speaks for is repaired at
/// once, and the rest is left to be decided anew. Ends with a verification if anything was
/// repaired.
void carry_out(Simulation& job, const plan::Batch& batch);

/// A repair of `cause` at its place: the cheapest per success, by the steps of the workshop.
const plan::CourseStep* repair_step(const plan::Workshop& workshop, std::size_t cause);
/// A look at `cause` that was not taken yet, or null.
const plan::CourseStep* look_step(const Simulation& job, std::size_t cause);

/// The places of a step: none for the engine.
std::vector<Place> places_of(const plan::CourseStep& step);

/// A shop without prices that takes no exhaust samples: the world cannot draw them truthfully.
plan::Shop shop_of(const pack::Pack& pack);
bool offered(const plan::Workshop& workshop, std::size_t check);

/// Looks at the most probable cause, or repairs and verifies it if that was done; hands on when
/// that would cost more than it can save.
void pursue_most_probable(Simulation& job);
/// The course without any further check (p/c), one batch; hands on where the course does.
void pursue_course(Simulation& job);

}  // namespace tickover::trial
