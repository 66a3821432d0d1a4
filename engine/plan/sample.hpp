/// @file
/// A belief as weighted scenarios: quick answers, all from one set of draws, for looking ahead.
#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

#include "engine/belief/network.hpp"
#include "engine/belief/scenarios.hpp"
#include "engine/plan/cures.hpp"

namespace tickover::plan {

/// Scenarios as they stand until the next repair. Weights are kept apart: what is learnt changes
/// weights alone (importance weights), so many beliefs share one sample.
class Sample {
 public:
  /// What is so in one scenario, and how surely; `index` is a cause, or a scenario.
  struct Part {
    std::uint32_t index = 0;
    double surely = 0;
  };
  struct Scene {
    std::vector<Part> present;  ///< causes present now
    std::vector<Part> lasting;  ///< causes that make the complaint last
    double curable = 1;         ///< P(nothing unlisted makes it last)
    double draws = 1;           ///< that it stands for
    double share = 1;           ///< of the posterior, when drawn
    double gone_by_itself = 1;  ///< `gone` with every cause still there

    /// P(nothing makes the complaint last), each cause still there with probability `kept`.
    double gone(const std::vector<double>& kept) const {
      double all = curable;
      for (const Part& part : lasting) all *= 1 - part.surely * kept[part.index];
      return all;
    }
  };

  Sample(const belief::Network& network, const std::vector<belief::Scenario>& scenarios);

  /// `count` draws of the posterior of `given`, at as few bits as leave enough of them to speak;
  /// `complaint` and `present` as for belief::Scenarios; of `most` bits they are taken as they
  /// come. No scenarios when the evidence contradicts itself.
  static Sample draw(const belief::Case& given, const std::vector<std::size_t>& complaint,
                     std::size_t count, const belief::RoughPresent& present,
                     std::size_t most = belief::kWidest);

  const std::vector<Scene>& scenes() const { return scenes_; }
  /// Weights of the posterior that it was drawn from.
  std::vector<double> shares() const;
  /// The number of equally probable draws that would say as much (Kish 1965, from memory).
  double effective_draws(const std::vector<double>& weights) const;
  std::size_t causes() const { return network_->causes.size(); }
  /// Per cause the scenarios in which it is present.
  const std::vector<std::vector<Part>>& present_with() const { return present_with_; }
  /// Per cause the scenarios in which it makes the complaint last.
  const std::vector<std::vector<Part>>& lasting_with() const { return lasting_with_; }

  /// P(what each of `seen` holds | each scenario), findings by their noisy-OR given the causes
  /// present, but for what is hidden by an inhibitor present. Where causes are not sure (after a
  /// repair that failed), sets of inhibitors that overlap count as independent.
  /// That what a link does persists is left aside: seen again after a repair, a finding tells a
  /// little too much.
  std::vector<std::vector<double>> likelihoods(const std::vector<belief::Case>& seen) const;
  std::vector<double> likelihood(const belief::Case& seen) const;

  /// What is left once `removals` were made and the complaint is still there. `weights` are those
  /// of this sample's scenarios and become those of the other's. Within a scenario each cause's
  /// probability of being still there is exact, that of several together their product.
  Sample after_failure(const std::vector<belief::Removal>& removals,
                       std::vector<double>& weights) const;

 private:
  Sample(const belief::Network& network, std::vector<Scene> scenes);
  bool enough(std::size_t count) const;
  using Causes = std::vector<std::size_t>;
  std::vector<double> at_most_of(const belief::Finding& finding, const Causes& inhibitors,
                                 std::size_t level) const;
  std::vector<double> at_most(std::size_t finding, std::size_t level) const;
  friend class Likelihoods;

  const belief::Network* network_;
  std::vector<Scene> scenes_;
  std::vector<std::vector<Part>> present_with_, lasting_with_;  ///< per cause
};

/// What is left to make the complaint last, as causes are removed one after another: worked out
/// when it is asked for, and only where it changed.
class Remainder {
 public:
  /// `sample` must stay.
  explicit Remainder(const Sample& sample)
      : sample_(sample), kept_(sample.causes(), 1.0), changed_(sample.scenes().size(), false) {}

  /// From here on nothing has been removed.
  void start();
  void remove(const belief::Removal& removal);
  /// P(the cause is still there | it was).
  double kept(std::size_t cause) const { return kept_[cause]; }

  /// Calls `now_gone(scenario, P(nothing makes the complaint last))` wherever a removal may have
  /// changed it since this was called last.
  template <typename NowGone>
  void tell(const NowGone& now_gone) {
    for (const std::uint32_t s : which_) {
      changed_[s] = false;
      now_gone(s, sample_.scenes()[s].gone(kept_));
    }
    which_.clear();
  }

 private:
  const Sample& sample_;
  std::vector<double> kept_;  ///< per cause
  std::vector<char> changed_;
  std::vector<std::uint32_t> which_;  ///< of changed_
};

/// Cures of a weighted sample.
class SampleCures : public Cures {
 public:
  /// `weights`: one per scenario, any common factor. Both must stay.
  SampleCures(const Sample& sample, const std::vector<double>& weights);
  SampleCures(const Sample& sample, std::vector<double>&& weights) = delete;

  const std::vector<double>& present() const override { return present_; }
  std::vector<double> culprits() override;
  double all_gone() override { return of_total(curable_); }
  void start() override;
  void remove(const belief::Removal& removal) override;
  double cured() override;

 private:
  double of_total(double mass) const { return total_ > 0 ? std::min(mass / total_, 1.0) : 0; }

  const Sample& sample_;
  const std::vector<double>& weights_;
  double total_ = 0, curable_ = 0, begin_cured_ = 0, cured_ = 0;
  std::vector<double> present_;
  Remainder remainder_;
  std::vector<double> begin_,
      cures_;  ///< per scenario: weight times P(cured), nothing removed; when last asked
};

}  // namespace tickover::plan
