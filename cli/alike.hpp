/// @file
/// Causes that stand alike at several places, told in one line.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "engine/machine/model.hpp"

namespace tickover::cli {

/// What would be said of a cause instance: alike are those of which the same is said.
using Said = std::function<std::string(std::size_t cause)>;

/// To go on after "each of" or "one of": "the 4 cylinders", "cylinders 1 and 3".
std::string of_places(const Model& model, const std::vector<Place>& places);

/// One instance as Model::describe_cause has it; several as "..., each of cylinders 1 and 3".
std::string causes_in_words(const Model& model, const std::vector<std::size_t>& alike);

/// Goes through causes in their order and hands each on with those alike, once.
void each_alike(const Model& model, const std::vector<std::size_t>& causes, const Said& said,
                const std::function<void(const std::vector<std::size_t>& alike)>& use);

}  // namespace tickover::cli
