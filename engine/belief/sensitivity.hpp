/// @file
/// Which single number of the knowledge, moved within its credible range, changes the answer most.
#pragma once

#include <string>
#include <vector>

#include "engine/belief/ground.hpp"

namespace tickover::belief {

/// One number of the pack, and what P(cause) becomes at the ends of its range.
struct Leverage {
  std::string place;  ///< "findings.json#/findings/3/links/1/strength/0"
  std::string what;  ///< "prior of pilot-blocked", "leak of idle-hunts", "strength pilot-blocked ->
                     ///< idle-hunts"
  double value = 0, low = 0, high = 0;
  double at_low = 0, at_high = 0;                     ///< P(cause) there
  std::size_t leader_at_low = 0, leader_at_high = 0;  ///< most probable cause instance there
};

struct Sensitivity {
  std::vector<Leverage> largest;  ///< by the width of their effect, largest first; ties by place
  bool all_tried = true;          ///< else only the cause's own numbers, and the priors of others
};

/// Of the numbers that have a range and touch the evidence, the `count` with the largest effect on
/// P(present now) of `cause`. Of wide cases not all are tried: each takes two long sweeps.
Sensitivity sensitivity(const Model& model, const Evidence& evidence, std::size_t cause,
                        std::size_t count);

/// `model` with the number at `place` (of a Leverage of the same evidence) set to `value`.
Model with_number(const Model& model, const Evidence& evidence, const std::string& place,
                  double value);

}  // namespace tickover::belief
