/// @file
/// The hidden truth of one simulated job, and how it answers what a mechanic does.
///
/// It follows the semantics of belief/network.hpp: causes by their priors; what a link or a leak
/// would produce is drawn once; a repair removes with its success, or where it passes a threshold
/// (Attempts); at any repair something may end unnoticed (`fades` of the pack). Faults that repairs
/// newly bring in (`disturbed`) are not drawn.
#pragma once

#include <string>
#include <vector>

#include "engine/evidence/evidence.hpp"
#include "engine/trial/draws.hpp"

namespace tickover::trial {

class World {
 public:
  /// `truth` holds the real numbers and must outlive the world.
  World(const Model& truth, const Draws& draws);

  const Model& model() const { return *truth_; }
  std::size_t faults() const;  ///< causes present at the beginning
  bool present(std::size_t cause, std::size_t epoch) const;

  /// Symptom or response: the level it shows in an epoch, spoilers considered.
  std::size_t level(std::size_t finding, std::size_t epoch) const;
  /// Reading: whether something moves it that way.
  bool moved(std::size_t finding, pack::Direction direction, std::size_t epoch) const;
  /// Of a symptom: causes present that produce it, and whether something unlisted does.
  std::vector<std::size_t> producers(std::size_t finding, std::size_t epoch) const;
  bool unlisted(std::size_t finding, std::size_t epoch) const;

  /// What a mechanic finds who looks for the `nth` time (from 0): a level, an outcome, or a value
  /// with its unit. `slips` is the probability of a result misread.
  std::string answer(const Evidence& evidence, std::size_t finding, std::size_t nth,
                     double slips) const;

  /// Whether the `nth` try (from 0) of a repair at a cause succeeds, which was `seen` so often
  /// after earlier ones. What it would fail for lasts until then, or is the chance of the try:
  /// Attempts.
  bool succeeds(std::size_t repair, std::size_t cause, double success, std::size_t nth,
                std::size_t seen = 0) const;
  /// What one repair entry does.
  void repair(const std::vector<RepairDone>& done);

 private:
  bool spoiled(const std::vector<std::size_t>& spoilers, std::size_t epoch) const;
  const pack::Finding& finding_of(std::size_t instance) const;
  std::size_t leak_level(std::size_t finding, std::size_t direction, std::size_t epoch) const;
  std::size_t link_level(std::size_t finding, std::size_t link) const;
  std::string outcome(const Evidence& evidence, std::size_t finding) const;
  double reading(const Evidence& evidence, std::size_t finding, std::size_t nth) const;
  double common_level(std::size_t finding, std::size_t epoch) const;
  std::string misread(std::size_t finding, std::size_t nth) const;

  const Model* truth_;
  Draws draws_;
  std::vector<std::size_t> ends_;  ///< per cause: the first epoch without it; 0: never there
  std::vector<std::vector<std::size_t>> tries_;  ///< per repair and cause
};

/// Symptoms that a rider speaks of unasked: those which the pack's phrases mean; of a pack without
/// phrases, all.
bool noticed_unasked(const pack::Pack& pack, std::size_t finding);

}  // namespace tickover::trial
