/// @file
/// What a course may take next, while it is made.
#pragma once

#include <cstddef>

namespace tickover::plan {

/// A step that may be worth taking.
struct Candidate {
  std::size_t step = 0, kind = 0;  ///< of Workshop::steps, of Contents
  double least = 0;                ///< minutes whatever else is in its batch
  double at_most = 0;  ///< what it buys of a cure a minute: no more than this, whatever was done
  bool used = false;
};

}  // namespace tickover::plan
