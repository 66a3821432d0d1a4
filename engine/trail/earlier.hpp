/// @file
/// What a job of a machine that came back keeps of the job before it.
#pragma once

#include <string>

#include "engine/diagnosis.hpp"

namespace tickover {

/// `name` is the file's name. Repairs are those that were not struck.
Earlier earlier_of(const Diagnosis& job, const Journal& journal, const std::string& name);

}  // namespace tickover
