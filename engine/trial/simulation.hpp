/// @file
/// One simulated job in the hands of a policy: it acts, the world answers, minutes are counted.
#pragma once

#include "engine/belief/ground.hpp"
#include "engine/plan/course.hpp"
#include "engine/trial/world.hpp"

namespace tickover::trial {

/// A symptom that the rider tells of.
struct Told {
  std::size_t finding = 0;  ///< index into Model::findings
  std::size_t level = 1;
};

/// What became of a job.
struct Outcome {
  double minutes = 0;        ///< all work, the hand-on price included
  bool cured = false;        ///< verified: all that the rider told of is gone
  bool cured_first = false;  ///< by the first verification
  bool handed_on = false;
  bool contradiction = false;  ///< handed on since the results contradict each other
  bool left = false;           ///< cured, but something else is there that a rider would notice
  std::size_t checks = 0, questions = 0, repairs = 0, verifications = 0;
  std::size_t needless = 0;  ///< repairs, by place, of causes that were not there
  bool operator==(const Outcome&) const = default;
};

class Simulation {
 public:
  /// What the policy believes by is `workshop` and `ground`; `world` may differ from it.
  Simulation(const plan::Workshop& workshop, const belief::Ground& ground, const World& world,
             const std::vector<Told>& told, double slips);

  const plan::Workshop& workshop() const { return workshop_; }
  const Model& model() const { return workshop_.model(); }
  const belief::Ground& ground() const { return ground_; }
  const Evidence& evidence() const { return evidence_; }
  const World& world() const { return world_; }
  const Journal& journal() const { return journal_; }
  const std::vector<std::size_t>& told() const { return told_; }  ///< Model::findings, ascending
  const Outcome& outcome() const { return outcome_; }
  bool over() const { return outcome_.cured || outcome_.handed_on; }

  std::vector<Place> places_left(std::size_t finding) const {
    return tickover::places_left(model(), evidence_, finding);
  }
  bool looked(std::size_t instance) const { return answered(model(), evidence_, instance); }

  void ask(std::size_t finding, const std::vector<Place>& places);
  /// Places at which the result speaks for a fault: an outcome likelier with it, a level above the
  /// lowest, a reading beyond its limits.
  std::vector<Place> check(std::size_t check, const std::vector<Place>& places);
  /// `places` in the scope of what is removed; none for the engine.
  void repair(std::size_t repair, const std::vector<Place>& places);
  /// Everything closed, the engine run: over when all that the rider told of is gone, whatever else
  /// was asked for and found. So the end is the same for policies that ask and those that do not.
  void verify();
  void hand_on(bool contradiction = false);

  double check_minutes(std::size_t check, std::size_t places) const;  ///< without access
  /// Without access, with what the parts count as.
  double repair_minutes(std::size_t repair, std::size_t places) const;

 private:
  void record(const std::string& what, std::size_t finding, const std::vector<Place>& places);
  void write(Entry entry);
  void collect();
  bool speaks(std::size_t finding) const;
  std::vector<std::size_t> cylinders_of(Place place) const;
  std::size_t needless(std::size_t entry, const std::vector<Place>& places) const;
  void pay(double work, const OpenLayers& before);

  const plan::Workshop& workshop_;
  const belief::Ground& ground_;
  World world_;
  const double slips_;
  Journal journal_;
  EvidenceReader reader_;
  std::size_t read_ = 0;  ///< entries of the journal that were read
  Evidence evidence_;
  std::vector<std::size_t> told_;
  std::vector<std::size_t> looks_;  ///< per finding instance
  Outcome outcome_;
};

}  // namespace tickover::trial
