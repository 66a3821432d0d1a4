/// @file
/// What a machine's sheet can name under "features".
#pragma once

#include <map>
#include <string>
#include <vector>

#include "engine/pack/pack.hpp"

namespace tickover::cli {

/// Each feature that entries of the pack need, with the names of those entries: causes first, then
/// repairs, checks, findings and layers. Without what the number of carburettors tells already.
std::map<std::string, std::vector<std::string>> features_asked_for(const pack::Pack& pack);

}  // namespace tickover::cli
