#include "engine/plan/course.hpp"

namespace tickover::plan {

Course plan_course(const Workshop& workshop, const belief::Case& given,
                   const std::vector<std::size_t>& complaint, const OpenLayers& open) {
  const belief::Belief belief = belief::infer(given);
  ExactCures cures(complaint);
  cures.pose(given, belief.log_evidence, belief.present_now);
  return plan_course(workshop, {cures, nothing_done(workshop.model()), open, true});
}

}  // namespace tickover::plan
