/// @file
/// A machine's sheet beside the pack, looked through before a job is opened with it.
#pragma once

#include <string>
#include <vector>

#include "engine/machine/model.hpp"

namespace tickover::cli {

/// Throws InputError (data) for what cannot be meant so: figures beyond what can be, features that
/// shut each other out. A job that has the sheet already keeps it.
void check_new_sheet(const Model& model);

/// What may be a slip of the pen, a sentence each: features and figures that nothing in the pack
/// asks for, none of several features of which a machine has one.
std::vector<std::string> doubts_about_sheet(const Model& model);

}  // namespace tickover::cli
