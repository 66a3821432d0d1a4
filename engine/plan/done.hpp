/// @file
/// What was done so far, as far as it bears on what is worth doing next.
#pragma once

#include <vector>

#include "engine/evidence/evidence.hpp"

namespace tickover::plan {

/// The same look tells nothing new, and the same repair helps little more.
struct Done {
  std::vector<std::size_t> looked = {};  ///< inspections (Model::findings) already answered
  Attempts attempts = {};
};

/// Of parts as they are now.
Done done(const Model& model, const Evidence& evidence);
/// `before`, and inspections answered since: what is seen of a cause says whether its repair
/// failed.
Done after_looking(Done before, const Model& model, const std::vector<std::size_t>& answered);

}  // namespace tickover::plan
