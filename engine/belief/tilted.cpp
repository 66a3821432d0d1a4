#include "engine/belief/tilted.hpp"

#include <algorithm>

#include "engine/belief/set_aside.hpp"

namespace tickover::belief {

double Tilted::tilt(const Lived& lived) const {
  double all = 1;
  for (const CauseObservation& one : factors) {
    const auto at = std::find_if(lived.begin(), lived.end(),
                                 [&](const auto& its) { return its.first == one.cause; });
    all *= at != lived.end() && at->second.in(one.epoch) ? one.present : one.absent;
  }
  return all;
}

Tilted tilted(const Case& given, const std::vector<std::size_t>& set_aside,
              const std::vector<double>& present) {
  const Known nothing;
  const SetAside aside(given, set_aside, nothing);
  Tilted out{aside.sides(present).high, aside.left_out(), {}};
  const auto first = static_cast<std::ptrdiff_t>(aside.rest().seen.size());
  out.factors.assign(out.rest.seen.begin() + first, out.rest.seen.end());
  return out;
}

Belief rough_belief(const Case& given, std::size_t widest) {
  Solver solver;
  Belief belief = solver.infer(given, widest);
  if (belief.exact || belief.contradiction) return belief;
  belief = solver.infer(tilted(given, solver.set_aside(), belief.present_now).rest, widest);
  belief.exact = false;
  return belief;
}

}  // namespace tickover::belief
