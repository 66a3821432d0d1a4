/// @file
/// Exact answers about a case: marginals, evidence, cures, explanations.
///
/// Method: the coverage recursion. Every present finding is an accumulator bit "explained already";
/// the causes are taken one after another, each adding non-negative terms, so nothing cancels.
/// Absent findings fold into factors on single causes and never widen the state. Bits are opened
/// when their first cause is taken and closed after their last; the order comes from schedule.hpp.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "engine/belief/network.hpp"

namespace tickover::belief {

/// The answer to "what is wrong?". One entry per cause in each vector.
/// Failure: P(e) = 0 sets `contradiction`; the probabilities are then the priors.
struct Belief {
  bool contradiction = false;
  double log_evidence = 0;               ///< natural log of P(e) (densities included as given)
  std::vector<double> present_at_start;  ///< P(present at epoch 0 | e)
  std::vector<double> present_now;       ///< P(present at Case::now | e)
  std::size_t width = 0;                 ///< most accumulator bits alive at once

  /// False when the case was too wide (kWidest, or the memory for it): then `low` and `high` hold
  /// proven bounds on present_now (bounds.hpp), and the probabilities above are computed without
  /// the findings set aside, present_now kept within the bounds.
  bool exact = true;
  std::vector<double> low, high;
};

/// Accumulator bits that may be alive at once; 2^kWidest doubles a step of the sweep.
constexpr std::size_t kWidest = 16;

/// Where the case is too wide, `refinements` splits tighten the bounds.
Belief infer(const Case& given, std::size_t refinements = 24);

/// Indices of `values`, largest first, at most `count`. Values that differ by rounding alone (about
/// 1e-7 of themselves) are ties, and stand in the order of their index: cylinder 1 before 2.
std::vector<std::size_t> largest_first(const std::vector<double>& values,
                                       std::size_t count = static_cast<std::size_t>(-1));

// When Belief::exact is false, all that follows too is computed without the findings set aside.

/// Natural log of P(e); -infinity when the evidence contradicts itself. One forward sweep.
double log_evidence(const Case& given);

/// P(all `findings` absent in the next epoch | e, `removals` made before it, and Case::fade).
/// Removal::epoch is ignored. Unit: probability. 0 when the evidence contradicts itself.
double cured(const Case& given, const std::vector<std::size_t>& findings,
             const std::vector<Removal>& removals);

/// P(cured) for `removals`, and for `removals` plus the certain removal of each single cause.
struct CureProspects {
  double base = 0;
  std::vector<double> with_cause;  ///< one per cause
};

class Prepared;
struct Scaled;

/// infer and log_evidence for case after case: keeps memory, and the order of elimination for cases
/// that differ by little.
class Solver {
 public:
  Solver();
  ~Solver();
  /// As the function of that name, but without bounds when the case is too wide: when it takes more
  /// than `widest` bits.
  Belief infer(const Case& given, std::size_t widest = kWidest);
  /// Findings left out of the last answer, ascending.
  const std::vector<std::size_t>& set_aside() const;
  double log_evidence(const Case& given);
  /// The same as long as at most `widest` bits are needed, else none.
  std::optional<double> log_evidence_within(const Case& given, std::size_t widest);
  /// Belief::width, or a little more: without a sweep, and without looking for better orders.
  std::size_t width(const Case& given);

 private:
  std::unique_ptr<Prepared> ready_;
};

/// Many questions about cures of one case: compiled and ordered once, then a pass or two a
/// question. Can be posed case after case, like Solver.
class Prospects {
 public:
  Prospects();
  /// As pose().
  Prospects(const Case& given, const std::vector<std::size_t>& findings, double known_log_evidence);
  ~Prospects();

  /// `findings` are what must be gone; `known_log_evidence` is log_evidence(given).
  void pose(const Case& given, const std::vector<std::size_t>& findings, double known_log_evidence);

  /// Most accumulator bits alive at once.
  std::size_t width() const;

  /// As the function of that name.
  double cured(const std::vector<Removal>& removals);
  /// Both passes; see CureProspects.
  CureProspects with_each(const std::vector<Removal>& removals);
  /// For each cause, P(cured | all causes removed) - P(cured | all but this one removed): how
  /// probable it is that this cause must go, alone or with others, for the findings to be gone.
  /// Unlike single gains it does not vanish when two causes both must go.
  std::vector<double> culprits();
  /// P(cured | all causes removed).
  double all_gone();
  /// As the function of that name.
  double unlisted();

 private:
  const std::vector<double>& shares(const std::vector<Removal>& removals);
  Scaled mass_of(std::size_t cause, double removed) const;

  std::unique_ptr<Prepared> ready_;
  double log_evidence_ = 0, fade_ = 0;
  std::vector<double> shares_;
};

/// P(something not on the list produces at least one of `findings` now) = 1 - P(cured | all
/// removed, nothing unlisted fading).
double unlisted(const Case& given, const std::vector<std::size_t>& findings);

/// One full account of what happened to every cause that can still account for a present finding or
/// move a sensor, all else observed of that finding considered. Causes that cannot are summed over:
/// given e they are independent of these.
struct Explanation {
  std::vector<std::size_t> causes;  ///< present at some epoch, ascending
  std::vector<Life> lives;          ///< of each of them
  double probability = 0;           ///< P(exactly this | e)
};

/// The `count` most probable explanations, best first; ties by the causes' order. Exact: A* whose
/// bound takes, for each coverage state apart, the best completion (never below the true one).
/// Fewer, or none, where more than 112 MiB of accounts would have to be held; those there are the
/// best.
std::vector<Explanation> explanations(const Case& given, std::size_t count);
/// The same over the causes of `among` alone; all others are summed over (marginal MAP).
std::vector<Explanation> explanations(const Case& given, std::size_t count,
                                      const std::vector<std::size_t>& among);

}  // namespace tickover::belief
