/// @file
/// What a course asks of a belief: how probable it is that the complaint is gone once something has
/// been removed.
#pragma once

#include <vector>

#include "engine/belief/infer.hpp"

namespace tickover::plan {

/// One belief, and removals thought of one after another.
class Cures {
 public:
  virtual ~Cures() = default;

  /// P(cause present now), one per cause, removals aside.
  virtual const std::vector<double>& present() const = 0;
  /// P(this cause must go, alone or with others), one per cause; see belief::Prospects::culprits.
  virtual std::vector<double> culprits() = 0;
  /// P(cured | all causes removed).
  virtual double all_gone() = 0;

  /// From here on nothing has been removed.
  virtual void start() = 0;
  /// Removes a cause with its probability of success, on top of what was removed.
  virtual void remove(const belief::Removal& removal) = 0;
  /// P(the complaint is gone after what was removed).
  virtual double cured() = 0;
};

/// From the exact posterior: a sweep each time.
class ExactCures : public Cures {
 public:
  /// `complaint` are nodes of the network: what must be gone.
  explicit ExactCures(std::vector<std::size_t> complaint) : complaint_(std::move(complaint)) {}

  /// Takes another belief: the posterior of `given`.
  void pose(const belief::Case& given, double log_evidence, std::vector<double> present);

  /// Most bits open at once in a sweep.
  std::size_t width() const { return prospects_.width(); }

  const std::vector<double>& present() const override { return present_; }
  std::vector<double> culprits() override { return prospects_.culprits(); }
  double all_gone() override { return prospects_.all_gone(); }
  void start() override { removals_.clear(); }
  void remove(const belief::Removal& removal) override { removals_.push_back(removal); }
  double cured() override { return prospects_.cured(removals_); }

 private:
  const std::vector<std::size_t> complaint_;
  belief::Prospects prospects_;
  std::vector<double> present_;
  std::vector<belief::Removal> removals_;
};

}  // namespace tickover::plan
