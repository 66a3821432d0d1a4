/// @file
/// How a job stands, in words and as JSON.
#pragma once

#include "cli/report.hpp"

namespace tickover::cli {

/// "Float height with a caliper, cylinder 2: 14 mm, below 16.5 mm (entry 7)".
std::string reading_in_words(const Model& model, const Observation& seen);
/// Readings out of limits that nothing has been repaired for; empty without any.
std::string left_beyond_in_words(const Diagnosis& job);
/// That figures come from a narrowed case (Diagnosis::judged), and what proves how far they may be
/// off; "" where they are exact.
std::string narrowed_in_words(const Diagnosis& job);

/// The causes with their probability, most probable first, at most `count` and none below `least`.
std::string standing_in_words(const Diagnosis& job, const belief::Belief& belief, std::size_t count,
                              double least);
Json standing_json(const Diagnosis& job, const belief::Belief& belief);

/// "Open: tank, airbox" or "Everything is closed".
std::string access_in_words(const Diagnosis& job);

}  // namespace tickover::cli
