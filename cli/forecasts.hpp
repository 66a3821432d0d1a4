/// @file
/// What each result of a check or question would mean, a line each.
#pragma once

#include <string>

#include "engine/diagnosis.hpp"

namespace tickover::cli {

/// The likeliest results. Those that differ only in which place is the odd one out share a line.
std::string forecasts_in_words(const Diagnosis& job, const plan::Proposal& proposal);

}  // namespace tickover::cli
