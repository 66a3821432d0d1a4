#include "engine/plan/next_step.hpp"

namespace tickover::plan {

Proposal next_step(const Model& model, const Evidence& evidence) {
  const Workshop workshop(model);
  const belief::Ground ground(model);
  return advise(workshop, ground, evidence, 0).proposals.front();
}

bool same_step(const Proposal& a, const Proposal& b) {
  if (a.kind != b.kind || a.index != b.index || a.places != b.places) return false;
  if (a.batch.steps.empty() || b.batch.steps.empty()) {
    return a.batch.steps.empty() == b.batch.steps.empty();
  }
  const CourseStep &left = a.batch.steps.front(), &right = b.batch.steps.front();
  return left.place == right.place && alike(left, right);
}

}  // namespace tickover::plan
