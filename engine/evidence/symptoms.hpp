/// @file
/// What of the symptoms seen is the complaint, and what has come anew.
#pragma once

#include <cstddef>
#include <set>
#include <string>

#include "engine/evidence/evidence.hpp"

namespace tickover {

/// Sets Evidence::complaint. `told_unasked`: symptoms that the rider came with, as far as recorded,
/// present or not by now.
void find_complaint(const Model& model, const std::set<std::size_t>& told_unasked,
                    Evidence& evidence);

/// What a road test that found the complaint gone has become once something of it, or something
/// new, is heard: "changed" while a symptom that the rider came with is absent, else "still".
std::string as_heard(const Evidence& evidence, const std::set<std::size_t>& told_unasked);

/// Sets Evidence::appeared.
void find_appeared(const Model& model, Evidence& evidence);

}  // namespace tickover
