/// @file
/// What a pack expects to see: how often each symptom, and what is behind it.
#pragma once

#include <vector>

#include "engine/machine/model.hpp"

namespace tickover::vet {

/// A cause at one place or more, with its probability.
struct Expected {
  std::size_t cause = 0;  ///< index into Pack::causes
  double probability = 0;
};

/// One symptom among machines whose rider complains of something.
struct ExpectedSymptom {
  std::size_t finding = 0;       ///< index into Pack::findings
  double present = 0;            ///< P(at one place or more | some symptom is present)
  std::vector<double> levels;    ///< P(exactly level 1, 2, .. at its first place | the same)
  std::vector<Expected> behind;  ///< given this symptom alone, at its clearest, at its first place:
                                 ///< every cause, most probable first
  double unlisted = 0;           ///< P(nothing listed produces it | the same)
};

struct Prediction {
  double complaint = 0;          ///< P(some symptom is present)
  double faults = 0;             ///< mean number of causes present, places counted
  std::vector<Expected> causes;  ///< given that some symptom is present, most probable first
  std::vector<ExpectedSymptom> symptoms;  ///< most frequent first
};

/// Exact, by belief, before anything is known but the machine and its risk factors.
Prediction predict(const Model& model);

}  // namespace tickover::vet
