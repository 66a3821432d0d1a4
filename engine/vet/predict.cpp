#include "engine/vet/predict.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/belief/ground.hpp"
#include "engine/belief/infer.hpp"

namespace tickover::vet {
namespace {

class Predictor {
 public:
  explicit Predictor(const Model& model) : model_(model), ground_(model) {
    for (std::size_t f = 0; f < model.findings.size(); ++f) {
      const std::size_t finding = model.findings[f].finding;
      if (model.pack.findings[finding].kind == pack::Kind::symptom) places_[finding].push_back(f);
    }
    for (std::size_t c = 0; c < model.causes.size(); ++c) {
      instances_[model.causes[c].cause].push_back(c);
    }
  }

  Prediction predict() {
    Prediction out;
    for (const CauseInstance& cause : model_.causes) out.faults += cause.prior;
    belief::Case silent = ground_.given({});
    for (const auto& [finding, places] : places_) observe(silent, places, 0);
    const double quiet = probability(silent);
    out.complaint = -std::expm1(solver_.log_evidence(silent));
    for (const auto& [cause, places] : instances_) {
      const double without = without_cause(ground_.given({}), places);
      const double quiet_without = without_cause(silent, places);
      out.causes.push_back({cause, 1 - (without - quiet_without) / (1 - quiet)});
    }
    largest_first(out.causes);
    for (const auto& [finding, places] : places_) {
      out.symptoms.push_back(symptom(finding, places, out.complaint));
    }
    std::stable_sort(out.symptoms.begin(), out.symptoms.end(),
                     [](const auto& a, const auto& b) { return a.present > b.present; });
    return out;
  }

 private:
  void observe(belief::Case& given, const std::vector<std::size_t>& places,
               std::size_t level) const {
    for (const std::size_t f : places) given.levels.push_back({*ground_.node_of(f), 0, level, 0});
  }

  double probability(const belief::Case& given) { return std::exp(solver_.log_evidence(given)); }

  /// P(evidence, and the cause at none of its places).
  double without_cause(belief::Case given, const std::vector<std::size_t>& places) {
    for (const std::size_t c : places) given.seen.push_back({c, 0, 0, 1, 0});
    return probability(given);
  }

  static void largest_first(std::vector<Expected>& list) {
    std::stable_sort(list.begin(), list.end(), [](const Expected& a, const Expected& b) {
      return a.probability > b.probability;
    });
  }

  ExpectedSymptom symptom(std::size_t finding, const std::vector<std::size_t>& places,
                          double complaint) {
    ExpectedSymptom out;
    out.finding = finding;
    belief::Case none = ground_.given({});
    observe(none, places, 0);
    out.present = -std::expm1(solver_.log_evidence(none)) / complaint;
    const std::size_t levels = model_.pack.findings[finding].levels.size();
    belief::Case clear;
    for (std::size_t level = 1; level < levels; ++level) {
      clear = ground_.given({});
      observe(clear, {places.front()}, level);
      out.levels.push_back(probability(clear) / complaint);
    }
    const double all = probability(clear);
    for (const auto& [cause, at] : instances_) {
      out.behind.push_back({cause, 1 - without_cause(clear, at) / all});
    }
    largest_first(out.behind);
    out.unlisted = belief::unlisted(clear, {*ground_.node_of(places.front())});
    return out;
  }

  const Model& model_;
  const belief::Ground ground_;
  belief::Solver solver_;
  std::map<std::size_t, std::vector<std::size_t>> places_;     ///< per symptom, its instances
  std::map<std::size_t, std::vector<std::size_t>> instances_;  ///< per cause
};

}  // namespace

Prediction predict(const Model& model) { return Predictor(model).predict(); }

}  // namespace tickover::vet
