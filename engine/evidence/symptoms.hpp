/// @file
/// What of the symptoms seen is the complaint, and what has come anew.
#pragma once

#include <cstddef>
#include <set>

#include "engine/evidence/evidence.hpp"

namespace tickover {

/// Sets Evidence::complaint. `told_unasked`: symptoms that the rider came with, as far as recorded,
/// present or not by now.
void find_complaint(const Model& model, const std::set<std::size_t>& told_unasked,
                    Evidence& evidence);

/// Sets Evidence::appeared.
void find_appeared(const Model& model, Evidence& evidence);

}  // namespace tickover
