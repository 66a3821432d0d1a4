/// @file
/// How probable each answer of a finding is before anything else is known.
#pragma once

#include <optional>
#include <vector>

#include "engine/evidence/foresee.hpp"

namespace tickover::vet {

/// What is taken as given: causes (indices into Model::causes) present and absent. All others have
/// their priors.
struct Given {
  std::optional<std::size_t> present, absent;
};

/// P(each answer of one finding instance | given). Answers are those of its kind: levels, outcomes,
/// or the sides a reading may fall on. In closed form, no inference: a finding by itself is a
/// product over its causes.
class Answers {
 public:
  Answers(const Model& model, std::size_t instance);

  std::vector<double> probabilities(const Given& given = {}) const;
  std::vector<std::string> names() const;
  /// True when the cause can move it.
  bool linked(std::size_t cause) const;

 private:
  /// A cause with the probability that it produces, alone, something beyond each of several marks:
  /// levels, or ways of a reading.
  struct Producer {
    std::size_t cause = 0;
    std::vector<double> beyond;
    std::vector<std::size_t> spoilers = {};
  };
  double cause_probability(std::size_t cause, const Given& given) const;
  std::vector<double> of_levels(const Given& given) const;
  std::vector<double> up_to_levels(const Given& given, const std::vector<bool>& spoiling) const;
  std::vector<double> of_sides(const Given& given) const;
  double still(std::size_t ways, const Given& given) const;
  void add_way(std::size_t way, const Way& what);

  const Model& model_;
  const std::size_t instance_;
  const pack::Finding& finding_;
  std::vector<double> leak_;  ///< P(the leak alone goes beyond each mark)
  std::vector<Producer> producers_;
  std::vector<std::size_t> spoilers_;  ///< all that hide something of it, none twice
  std::vector<ForeseenReading> sides_;
};

}  // namespace tickover::vet
