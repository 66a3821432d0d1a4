/// @file
/// The job sheet with the shipped texts.
#pragma once

#include <string>

#include "engine/trail/trail.hpp"

namespace tickover::test {

std::string sheet_as_markdown(const Diagnosis& job, const Journal& journal, const Trail& trail,
                              const std::string& language = "en");

}  // namespace tickover::test
