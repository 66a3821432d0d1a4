#include "cli/prediction.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/print.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kBehindShown = 5, kPredictedShown = 12;

/// "; slight 12.9, clear 21.3", for one place.
std::string levels_text(const pack::Finding& finding, const std::vector<double>& levels) {
  if (levels.size() < 2 && finding.scope == pack::Scope::engine) return {};
  const std::string scope(name_of(finding.scope));
  std::string out = finding.scope == pack::Scope::engine ? "; " : "; at one " + scope + ": ";
  for (std::size_t i = 0; i < levels.size(); ++i) {
    out += fmt::format("{}{} {:.1f}", i > 0 ? ", " : "", finding.levels[i + 1], 100 * levels[i]);
  }
  return out;
}

std::string symptom_text(const Model& model, const vet::ExpectedSymptom& symptom) {
  const pack::Finding& finding = model.pack.findings[symptom.finding];
  std::string out =
      labelled(fmt::format("{:5.1f} %  ", 100 * symptom.present),
               finding.name + " (" + finding.id + levels_text(finding, symptom.levels) + ")", 9);
  for (std::size_t i = 0; i < std::min(kBehindShown, symptom.behind.size()); ++i) {
    const vet::Expected& one = symptom.behind[i];
    out += labelled("         " + percent(one.probability) + "  ",
                    model.pack.causes[one.cause].name, 16);
  }
  return out + "         " + percent(symptom.unlisted) + "  not on the list\n";
}

Json expected_json(const Model& model, const std::vector<vet::Expected>& list) {
  Json out = Json::array();
  for (const vet::Expected& one : list) {
    out.push_back(
        {{"cause", model.pack.causes[one.cause].id}, {"probability", steady(one.probability)}});
  }
  return out;
}

Json symptom_json(const Model& model, const vet::ExpectedSymptom& symptom) {
  const pack::Finding& finding = model.pack.findings[symptom.finding];
  Json levels;
  for (std::size_t i = 0; i < symptom.levels.size(); ++i) {
    levels[finding.levels[i + 1]] = steady(symptom.levels[i]);
  }
  return {{"symptom", finding.id},
          {"present", steady(symptom.present)},
          {"levels", levels},
          {"unlisted", steady(symptom.unlisted)},
          {"causes", expected_json(model, symptom.behind)}};
}

}  // namespace

std::string prediction_in_words(const Model& model, const vet::Prediction& prediction) {
  std::string out = wrapped(
      fmt::format("What {} {} expects of {}, before anything is seen: {:.2f} faults on average; "
                  "{:.0f} in 100 show a symptom. Nothing of this is measured.",
                  model.pack.id, model.pack.version, model.machine.name, prediction.faults,
                  100 * prediction.complaint),
      0);
  out += "\nOf 100 machines whose rider complains of something, so many have\n";
  for (std::size_t i = 0; i < std::min(kPredictedShown, prediction.causes.size()); ++i) {
    const vet::Expected& one = prediction.causes[i];
    out += labelled(fmt::format("{:5.1f} %  ", 100 * one.probability),
                    model.pack.causes[one.cause].name, 9);
  }
  out +=
      "\nand so many show each symptom; below it, the causes that lead when it is clear and\n"
      "all that is known\n";
  for (const vet::ExpectedSymptom& symptom : prediction.symptoms) {
    out += symptom_text(model, symptom);
  }
  return out;
}

Json prediction_json(const Model& model, const vet::Prediction& prediction) {
  Json out = {{"report", "prediction"},
              {"format", 1},
              {"pack", model.pack.id},
              {"version", model.pack.version},
              {"machine", model.machine.id},
              {"faults", steady(prediction.faults)},
              {"complaint", steady(prediction.complaint)},
              {"causes", expected_json(model, prediction.causes)}};
  out["symptoms"] = Json::array();
  for (const vet::ExpectedSymptom& symptom : prediction.symptoms) {
    out["symptoms"].push_back(symptom_json(model, symptom));
  }
  return out;
}

}  // namespace tickover::cli
