/// @file
/// What a job of a machine that came back keeps of the job before it.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis.hpp"

namespace tickover {

/// Ids of the pack's risks that the job leaves behind (Risk::left_by_layers, left_by_repairs),
/// where it found the complaint gone: only then can what came back have begun since.
std::vector<std::string> risks_left(const Diagnosis& job);

/// `name` is the file's name. Repairs are those that were not struck.
Earlier earlier_of(const Diagnosis& job, const Journal& journal, const std::string& name);

}  // namespace tickover
