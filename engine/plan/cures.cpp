#include "engine/plan/cures.hpp"

namespace tickover::plan {

void ExactCures::pose(const belief::Case& given, double log_evidence, std::vector<double> present) {
  prospects_.pose(given, complaint_, log_evidence);
  present_ = std::move(present);
  removals_.clear();
}

}  // namespace tickover::plan
