#include "engine/plan/gathered.hpp"

namespace tickover::plan {

Charge charge(const Workshop& workshop, const CourseStep& step, const OpenLayers& still,
              bool again) {
  const pack::Work& repairing = step.repairing;
  if (!step.look) return {{repairing.each + (again ? 0 : repairing.once), step.parts}, {}};
  return {
      {step.looking.each + (again ? 0 : step.looking.once), step.consumables},
      {repairing.once + repairing.each + workshop.access().there_and_back(still, step.need.open),
       step.parts}};
}

double least_minutes(const CourseStep& step) {
  return step.look ? step.looking.each + step.consumables : step.repairing.each + step.parts;
}

CourseStep without_look(CourseStep step) {
  for (belief::Removal& one : step.removals) one.success /= step.look->sensitivity;
  step.look.reset();
  return step;
}

void gather(Gathered& gathered, const CourseStep& step) {
  if (!step.look) {
    gathered.still = gathered.still | step.need.open;
    return;
  }
  gathered.shut = gathered.shut | step.look->need.shut;
  OpenLayers& need = step.look->need.running ? gathered.running : gathered.still;
  need = need | step.look->need.open;
}

OpenLayers open_first(const Workshop& workshop, const Gathered& gathered, const OpenLayers& start) {
  return workshop.access().after(start, {gathered.running, gathered.shut});
}

double total_minutes(const Workshop& workshop, const Gathered& gathered, const OpenLayers& start) {
  const Access& access = workshop.access();
  const OpenLayers first = open_first(workshop, gathered, start);
  const OpenLayers widest = first | gathered.still;
  return gathered.work + gathered.parts + access.minutes(start, first).total() +
         access.minutes(first, widest).open + access.minutes(widest, {}).close +
         workshop.verify_minutes();
}

}  // namespace tickover::plan
