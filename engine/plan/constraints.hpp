/// @file
/// What cannot be done here and now, whatever it would be worth.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/machine/model.hpp"

namespace tickover::plan {

/// What the mechanic has ruled out. Bars checks, questions and repairs from proposals and courses
/// alike; closing up and verifying are never barred. A part that is not in stock bars nothing: it
/// is ordered, and a plan that did without would put right what is not wrong or hand the machine
/// on.
struct Constraints {
  std::vector<std::string> without = {};  ///< ids of checks, questions and repairs
  std::vector<std::string> tools = {};    ///< not in the shop: bars checks that list such a tool
  std::vector<std::string> parts = {};    ///< not in stock: to be ordered (to_order)
  bool running = true;                    ///< false: the engine cannot be run for a check or repair
  std::optional<double> minutes = {};     ///< left today: what takes longer is not proposed

  bool bars(const pack::Check& check) const;
  bool bars(const pack::Finding& question) const;
  bool bars(const pack::Repair& repair) const;
  /// Parts of the repair that are not in stock.
  std::vector<std::string> to_order(const pack::Repair& repair) const;
};

/// One of the texts has the words of one of `names` in it, one after the other, letter case aside.
bool any_named(const std::vector<std::string>& texts, const std::vector<std::string>& names);

}  // namespace tickover::plan
