/// @file
/// What is told of how an action is carried out.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis.hpp"

namespace tickover::cli {

/// Of a check also what is seen when all is well, and what goes wrong with it; else empty.
struct Instructions {
  pack::Cautions cautions;  ///< its own, and those of the layers it opens
  std::vector<std::string> tools, parts, how;
  std::string good = {};
  std::vector<std::string> mistakes = {};
};

Instructions instructions(const Diagnosis& job, const plan::Proposal& proposal);

}  // namespace tickover::cli
