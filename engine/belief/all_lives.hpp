/// @file
/// How every cause of a case can have lived, worked out once. Inside belief only.
#pragma once

#include <span>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// Takes one case after another, and works nothing out anew for those with the same causes and the
/// same removals, as long as nothing comes or fades by itself.
class AllLives {
 public:
  void take(const Case& given);
  /// As lives() of the case taken last.
  std::span<const LifeChance> of(std::size_t cause) const {
    return {all_.data() + begins_[cause], begins_[cause + 1] - begins_[cause]};
  }

 private:
  bool same_history(const Case& given) const;

  std::vector<Cause> causes_;
  std::vector<Removal> removals_;
  Epoch now_ = 0;
  bool changes_by_itself_ = true;    ///< windows or fades
  std::vector<LifeChance> all_;      ///< cause after cause
  std::vector<std::size_t> begins_;  ///< per cause, where its own begin; their number at the end
};

}  // namespace tickover::belief
