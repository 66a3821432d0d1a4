/// @file
/// From what a rider says to symptoms.
#pragma once

#include <string>
#include <vector>

#include "cli/command.hpp"
#include "engine/machine/model.hpp"
#include "engine/triage/triage.hpp"

namespace tickover::cli {

/// What the words may mean among the symptoms that this machine can show.
triage::Triage listen(const World& world, const Model& model, const std::string& words);

/// Ids of the symptoms that the rider's words may mean, what is denied left out.
std::vector<std::string> symptoms_in(const World& world, const Model& model,
                                     const std::string& said);

struct Session;

/// Symptoms (triage::Heard) that the rider's words may mean, and of which nothing is recorded, nor
/// of what else the same words may mean.
std::vector<triage::Heard> not_recorded(const World& world, const Session& session);

/// The same as a paragraph with a line each; empty where there is none.
std::string not_recorded_in_words(const World& world, const Session& session);

/// What a note with the rider's words begins with.
constexpr const char* kRider = "rider: ";

/// The rider's words of a job: those it was opened with, and those told since.
std::string riders_words(const Journal& journal);

}  // namespace tickover::cli
