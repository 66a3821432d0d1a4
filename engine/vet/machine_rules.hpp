/// @file
/// The parts of vet::about_machine. Inside vet only.
#pragma once

#include "engine/vet/vet.hpp"

namespace tickover::vet {

/// Blind spots, and symptoms that nothing explains but the leak.
std::vector<Remark> about_settling(const Model& model);
/// Pairs of causes that no finding tells apart.
std::vector<Remark> about_pairs(const Model& model);

}  // namespace tickover::vet
