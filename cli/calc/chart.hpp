/// @file
/// A plain-text chart over the throttle: 80 columns, ASCII, no colour.
#pragma once

#include <functional>
#include <string>

namespace tickover::cli {

/// Columns of '#' for a share (0.18 is 18 %) that depends on a throttle opening; the opening runs
/// from `first` to 1 on a logarithmic scale.
std::string throttle_chart(double first, const std::function<double(double)>& share_at);

}  // namespace tickover::cli
