/// @file
/// A job on a small pack as a decision problem: every possibility of what is wrong with its
/// probability, what can be done, what it takes, what may come of it. Shares no arithmetic with
/// engine/belief or engine/plan, but for the minutes of changing access.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "engine/diagnosis.hpp"

namespace tickover::test {

/// A mass per possibility. A possibility says of each cause whether it is absent, present, or
/// present and such that the complaint comes of it, and whether the complaint comes of something
/// unlisted; that holds as long as the cause is there.
using Masses = std::vector<double>;

double sum_of(const Masses& masses);

/// Checks and repairs in the order in which they were done, written so that orders which cannot
/// differ in what is believed read the same: each stands in the first block in which nothing
/// depends on it (normal form of Cartier & Foata 1969, from memory).
class History {
 public:
  struct Done {
    char name = 0;         ///< unlike that of anything else that may be done or come of it
    bool repairs = false;  ///< two repairs commute, and so do two observations
    unsigned causes = 0;   ///< bit by bit: which it removes, or tells of
  };

  void add(const Done& done);
  std::string written() const;

 private:
  std::vector<std::vector<Done>> blocks_;
};

/// How often one may repair the same thing: what cannot fail once, else so many `times`; `at_once`
/// or only after a verification has shown that it is still there.
struct Repeats {
  std::size_t times = 2;
  bool at_once = true;
};

/// Rules, the same for whoever plans: each check at most once in a job, repairs as `Repeats` says.
/// Verifying closes everything and tells whether
/// the complaint is gone, which ends the job; so does handing on, for its price and the closing.
/// All causes, findings and repairs belong to the engine; the complaint is "symptom-0".
class SmallJob {
 public:
  /// `job` has symptoms of the machine as found, and layers open. At most 8 causes.
  SmallJob(const Diagnosis& job, const Repeats& repeats);

  struct State {
    Masses masses;
    History history;
    std::vector<std::size_t> checked, repaired;  ///< how often, by check and by repair
    OpenLayers open;
    unsigned unproven = 0;  ///< repairs not verified yet, bit by bit
    std::string key() const;
  };

  const Diagnosis& job() const { return job_; }
  const pack::Pack& pack() const { return job_.model().pack; }
  State start() const;
  bool can_check(const State& state, std::size_t check) const { return state.checked[check] == 0; }
  bool can_repair(const State& state, std::size_t repair) const;
  /// Now, or at least once it was verified.
  bool can_repair_yet(const State& state, std::size_t repair) const;

  /// Minutes of doing it from `state`.
  double minutes_of_check(const State& state, std::size_t check) const;
  double minutes_of_repair(const State& state, std::size_t repair) const;
  double minutes_to_verify(const State& state) const;
  double minutes_to_hand_on(const State& state) const;

  std::size_t answers(std::size_t check) const;
  /// The state once it is done; the masses are those of what came of it, and add up to less.
  State checked(const State& state, std::size_t check, std::size_t answer) const;
  State repaired(const State& state, std::size_t repair) const;
  State verified_still(const State& state) const;

  double present(const Masses& masses, std::size_t cause) const;
  /// Of each possibility: the causes that must go (bits), and whether the complaint would stay.
  unsigned must_go(std::size_t possibility) const { return must_go_[possibility]; }
  bool incurable(std::size_t possibility) const { return possibility >= must_go_.size() / 2; }

 private:
  std::size_t digit(std::size_t possibility, std::size_t cause) const;
  /// P(answer | each possibility).
  Masses likelihood(std::size_t finding, std::size_t answer) const;
  Masses priors() const;

  const Diagnosis& job_;
  const Repeats repeats_;
  const Access access_;
  std::vector<std::size_t> place_;             ///< 3^cause
  std::vector<unsigned> must_go_;              ///< by possibility
  std::vector<std::vector<Masses>> of_check_;  ///< likelihoods by check and answer
};

}  // namespace tickover::test
