/// @file
/// How a prediction of the pack is shown.
#pragma once

#include "cli/report.hpp"
#include "engine/vet/predict.hpp"

namespace tickover::cli {

/// A table: each symptom, how often, and the causes that lead when it is all that is known.
std::string prediction_in_words(const Model& model, const vet::Prediction& prediction);
Json prediction_json(const Model& model, const vet::Prediction& prediction);

}  // namespace tickover::cli
