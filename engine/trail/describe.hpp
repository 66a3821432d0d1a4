/// @file
/// Entries in words, for every front end.
#pragma once

#include <string>

#include "engine/job/journal.hpp"
#include "engine/machine/model.hpp"

namespace tickover {

/// An entry in one line: "compression, cyl 2: 980 kPa". What people typed is made printable.
std::string describe(const Model& model, const Entry& entry);

}  // namespace tickover
