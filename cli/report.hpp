/// @file
/// Pieces that several commands print: the standing of causes, proposals, and the line after an
/// entry.
#pragma once

#include <iosfwd>
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "engine/diagnosis.hpp"
#include "engine/job/journal.hpp"

namespace tickover::cli {

using Json = nlohmann::ordered_json;

/// "all four cylinders", "cylinders 2 and 3", "" for the engine.
std::string places_in_words(const Model& model, const std::vector<Place>& places);
/// "look: Pilot jets against the light (all 4 cylinders); repair: Renew the cap (cylinder 1)".
std::string steps_in_words(const Model& model, const std::vector<plan::CourseStep>& steps);
/// "Water mist on each intake joint, all cylinders": what the proposal is, without minutes.
std::string headline(const Model& model, const plan::Proposal& proposal);

/// The lines Next, Time and Why.
std::string head_in_words(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice,
                          const plan::Proposal& proposal);
/// The proposal in full: why, minutes, cautions, tools, steps, what each result would mean, and the
/// command that records it in the job file `path`.
std::string proposal_in_words(const Diagnosis& job, const plan::Shop& shop,
                              const plan::Advice& advice, const plan::Proposal& proposal,
                              const std::string& path);
Json course_json(const Model& model, const plan::Course& course);
Json proposal_json(const Diagnosis& job, const plan::Proposal& proposal);

/// Names the entries that contradict each other.
std::string contradiction_in_words(const Diagnosis& job, const Journal& journal);
/// One JSON document, indented.
void print_json(std::ostream& out, const Json& report);
/// Rounded so that equal answers print equally on every machine: 12 significant digits.
double steady(double number);

}  // namespace tickover::cli
