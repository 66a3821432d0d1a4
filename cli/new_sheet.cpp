#include "cli/new_sheet.hpp"

#include <algorithm>

#include "cli/features.hpp"
#include "engine/evidence/figures.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

std::string name_of_sheet(const Model& model) { return "machine '" + model.machine.id + "'"; }

/// Of `features` those that the sheet names.
std::vector<std::string> named(const Model& model, std::vector<std::string> features) {
  std::erase_if(features, [&](const std::string& feature) { return !model.machine.has(feature); });
  return features;
}

}  // namespace

void check_new_sheet(const Model& model) {
  for (const OddFigure& odd : odd_figures(model)) {
    if (odd.doubt) continue;
    throw InputError(InputFault::data, name_of_sheet(model) + ", /wanted/" + odd.figure, odd.what,
                     odd.hint.empty() ? "look again at the value and at its unit" : odd.hint);
  }
  for (const std::vector<std::string>& features : model.pack.one_of) {
    const std::vector<std::string> has = named(model, features);
    if (has.size() < 2) continue;
    throw InputError(InputFault::data, name_of_sheet(model),
                     "it cannot be " + join_words(has) + " at once",
                     "leave the one that it has under \"features\"");
  }
}

std::vector<std::string> doubts_about_sheet(const Model& model) {
  std::vector<std::string> doubts, known;
  for (const auto& [name, entries] : features_asked_for(model.pack)) known.push_back(name);
  for (const std::vector<std::string>& features : model.pack.one_of) {
    known.insert(known.end(), features.begin(), features.end());
  }
  for (const std::string& feature : model.machine.features) {
    if (std::find(known.begin(), known.end(), feature) != known.end()) continue;
    const std::string near = nearest(feature, known);
    if (near == feature) continue;
    doubts.push_back("nothing in the pack asks for the feature '" + feature + "'" +
                     (near.empty() ? "" : "; nearest: " + near) + " (tickover list features)");
  }
  for (const OddFigure& odd : odd_figures(model)) {
    if (odd.doubt) doubts.push_back(odd.what + (odd.hint.empty() ? "" : "; " + odd.hint));
  }
  for (const std::vector<std::string>& features : model.pack.one_of) {
    if (!named(model, features).empty()) continue;
    doubts.push_back("none of the features " + join_words(features, " and ") +
                     " is named; what only such machines have is left out");
  }
  return doubts;
}

}  // namespace tickover::cli
