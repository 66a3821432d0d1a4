/// @file
/// From what a rider says to symptoms.
#pragma once

#include <string>
#include <vector>

#include "engine/pack/pack.hpp"

namespace tickover::cli {

/// Ids of the symptoms that the words may mean, by the phrases of the pack; none twice.
std::vector<std::string> symptoms_in(const pack::Pack& pack, const std::string& said);

}  // namespace tickover::cli
