/// @file
/// The results a check may have, with their probabilities. For plan, vet and trial.
#pragma once

#include <string>
#include <vector>

#include "engine/belief/ground.hpp"
#include "engine/belief/infer.hpp"

namespace tickover::plan {

/// One joint result over all places of a check.
struct Result {
  std::vector<std::pair<Place, std::string>> answers;
  std::vector<Observation> observations;
  double probability = 0;
  double log_evidence = 0;      ///< of the case with these observations
  std::vector<double> present;  ///< P(each cause present now | the case with them)
};

/// One answer that a finding instance may have: a level or outcome, or for a reading the side on
/// which it falls.
struct Answer {
  std::string id;
  Observation seen;
};

/// All answers that instance `instance` (index into Model::findings) may have.
std::vector<Answer> answers_of(const Model& model, std::size_t instance, std::size_t epoch);
/// The same, known from an instance of the same finding at another place: worked out anew only
/// where the answers speak of siblings too.
std::vector<Answer> answers_at(const Model& model, std::size_t instance,
                               const std::vector<Answer>& elsewhere);

/// Follows the answers place by place while a joint result stays more probable than `least`.
/// `now` is what is believed of `given`, which is left as it was. The probabilities of what is
/// returned sum to 1 less what was too rare; most probable first.
std::vector<Result> results_of(belief::Solver& solver, const belief::Ground& ground,
                               const Model& model, belief::Case& given, const belief::Belief& now,
                               std::size_t finding, const std::vector<Place>& places,
                               std::size_t epoch, double least);

}  // namespace tickover::plan
