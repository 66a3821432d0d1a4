/// @file
/// Figures of a machine's sheet that cannot be meant so.
#pragma once

#include <string>
#include <vector>

#include "engine/machine/model.hpp"

namespace tickover {

/// One that is beyond what its reading can be; a doubt where it hardly can be in order, where its
/// tolerance is larger than itself, or where its name looks like a slip of the pen for another.
struct OddFigure {
  std::string figure;  ///< its key under "wanted"
  std::string what;    ///< "17 inch is beyond what can be: 2 to 40 mm"
  std::string hint;    ///< "did you mean 17 mm?"; may be empty
  bool doubt = false;  ///< it may be meant so all the same
};

/// In the order of their keys.
std::vector<OddFigure> odd_figures(const Model& model);

}  // namespace tickover
