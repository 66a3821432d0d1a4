/// @file
/// What a job of a machine that came back keeps of the job before it.
#pragma once

#include <string>
#include <vector>

#include "engine/trail/trail.hpp"

namespace tickover {

/// Ids of the risks that hold when the machine comes back: those of the opening, without what work
/// leaves behind and time takes away (Risk::left_by_layers, left_by_repairs), and what this job
/// leaves behind if it found the complaint gone.
std::vector<std::string> risks_taken_over(const Diagnosis& job, const Journal& journal);

/// The causes that the job left most probable, in question still, at most three.
std::vector<Standing> left_most_probable(const Diagnosis& job);

/// `name` is the file's name. Repairs are those that were not struck.
Earlier earlier_of(const Diagnosis& job, const Journal& journal, const std::string& name);

}  // namespace tickover
