/// @file
/// Cautions as they are shown: gravest first, with the signal word, before any step.
#pragma once

#include <string>

#include "cli/report.hpp"
#include "engine/pack/pack.hpp"

namespace tickover::cli {

/// "Take care", a line for each caution beginning with its signal word, and what stands above them
/// all. Empty when there is none.
std::string cautions_in_words(const pack::Pack& pack, const pack::Cautions& cautions);

/// A list of {id, grade, hazard, text} in the same order.
Json cautions_json(const pack::Pack& pack, const pack::Cautions& cautions);

}  // namespace tickover::cli
