/// @file
/// What was done so far, as far as it bears on what is worth doing next.
#pragma once

#include <vector>

#include "engine/belief/network.hpp"
#include "engine/evidence/evidence.hpp"

namespace tickover::plan {

/// The same look tells nothing new, and the same repair helps little more.
struct Done {
  std::vector<std::size_t> looked = {};  ///< inspections (Model::findings) already answered
  Attempts attempts = {};                ///< repairs made, and those planned that failed
  Attempts planned = {};                 ///< of these, the ones that are only planned
};

/// The repairs of a course while it is made or priced. To look again at what was cleaned in vain is
/// worth it, since what is seen says why it failed; nobody looks at what was renewed, or mended by
/// the same plan.
class Tries {
 public:
  explicit Tries(const Done& done) : all_(done.attempts), planned_(done.planned) {}

  /// P(the removal of a step succeeds | all tries before it failed).
  double left(bool looks, const belief::Removal& one) const {
    constexpr double kAsGoodAsNew = 0.9;
    const bool again = looks && all_.best(one.cause) < kAsGoodAsNew;
    return (again ? planned_ : all_).left(one.cause, one.success);
  }
  /// The removal with that success; it is made.
  belief::Removal make(bool looks, belief::Removal one) {
    const double goes = left(looks, one);
    all_.make(one.cause, one.success);
    planned_.make(one.cause, one.success);
    one.success = goes;
    return one;
  }

  const Attempts& all() const { return all_; }
  const Attempts& planned() const { return planned_; }

 private:
  Attempts all_, planned_;
};

/// At the beginning of a job.
Done nothing_done(const Model& model);
/// Of parts as they are now.
Done done(const Model& model, const Evidence& evidence);
/// `before`, and inspections answered since: what is seen of a cause says whether its repair
/// failed.
Done after_looking(Done before, const Model& model, const std::vector<std::size_t>& answered);

}  // namespace tickover::plan
