#include "engine/plan/gathered.hpp"

namespace tickover::plan {

OpenLayers open_running(const Workshop& workshop, const Gathered& gathered,
                        const OpenLayers& start) {
  if (!gathered.any_running) return start;
  return workshop.access().after(start, {gathered.running, true});
}

double total_minutes(const Workshop& workshop, const Gathered& gathered, const OpenLayers& start) {
  const Access& access = workshop.access();
  const OpenLayers first = open_running(workshop, gathered, start);
  const OpenLayers widest = first | gathered.still;
  return gathered.work + gathered.parts + access.minutes(start, first).total() +
         access.minutes(first, widest).open + access.minutes(widest, {}).close +
         workshop.verify_minutes();
}

}  // namespace tickover::plan
