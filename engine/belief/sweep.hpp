/// @file
/// One pass forward, one backward over a scheduled problem. Inside belief only.
#pragma once

#include <vector>

#include "engine/belief/coverage.hpp"
#include "engine/belief/problem.hpp"
#include "engine/belief/scaled.hpp"
#include "engine/belief/schedule.hpp"

namespace tickover::belief {

/// Per variable the probability that it is removed before the prospect.
using Shares = std::vector<double>;

/// An emission with its alternatives resolved to slots.
struct PlacedEmission {
  bool one_bit = false;
  OneBit one;
  Range covers;  ///< of Placed::covers, unless one_bit
};

/// A problem laid out: emissions (by the problem's numbers) as covers of slots.
class Placed {
 public:
  void place(const Problem& problem, const Schedule& schedule);

  /// The emissions of a state in turn, in place; and the transpose. Not the state's weight.
  void apply(const State& state, double* v, std::size_t size) const;
  void apply_transposed(const State& state, double* u, std::size_t size) const;
  /// sum += weight * the emissions of a state, in turn, on v. The state has some. `scratch` has
  /// room for one more vector.
  void add_applied(const State& state, double weight, const double* v, double* scratch,
                   std::size_t size, double* sum) const;
  /// out = their transpose on u. The state has some.
  void apply_transposed(const State& state, const double* u, double* out, std::size_t size) const;
  const PlacedEmission& emission(std::uint32_t e) const { return emissions_[e]; }

 private:
  void apply(std::uint32_t e, double* v, std::size_t size) const;
  void apply_transposed(std::uint32_t e, double* u, std::size_t size) const;

  std::vector<PlacedEmission> emissions_;
  std::vector<Cover> covers_;
};

/// Opens, closes: v has room for the larger of the two sizes of `step`.
void open_bits(const Step& step, double* v);
void close_bits(const Problem& problem, const Schedule& schedule, const Step& step, double* v);
void close_bits_transposed(const Problem& problem, const Schedule& schedule, const Step& step,
                           double* u);

/// Masses of a problem. Keeps its memory from one problem to the next.
class Sweep {
 public:
  /// Takes another problem; it and its schedule must stay until the next call.
  void set(const Problem& problem, const Schedule& schedule);

  /// Total mass: P(e). `shares` tells how likely each variable is removed, for problems compiled
  /// with a prospect; without it none is.
  Scaled forward(const Shares* shares = nullptr);

  /// Forward, then backward; after it the masses below can be asked for.
  Scaled both_ways(const Shares* shares = nullptr);

  /// The mass with a variable in state `s` (of Problem::states), all others as they are: its own
  /// share aside, as if it were certain to be left alone (removed, for a state removed).
  Scaled mass(std::uint32_t s) const { return masses_[s]; }

 private:
  double fated(std::uint32_t v, const State& state) const;
  OneBit operator_of(std::uint32_t v) const;
  OneBit merged(const Range& variables) const;
  void apply_step(const Step& step, const double* v, double* sum);
  void apply_step_transposed(const Step& step, const double* before, int exponent, const double* u,
                             double* sum);
  void merge_masses(const Range& variables, const double* before, const double* u, std::size_t size,
                    std::uint32_t bit, int exponent);
  Scaled alone_product();
  void alone_masses(const Scaled& scheduled);
  void rescale(std::vector<double>& v, std::size_t size, int& exponent);

  const Problem* problem_ = nullptr;
  const Schedule* schedule_ = nullptr;
  Placed placed_;
  const Shares* shares_ = nullptr;
  bool keep_ = false;  ///< the forward pass keeps its vectors for the backward one
  std::vector<double> v_, next_, scratch_;
  std::vector<double> kept_;          ///< vectors before each apply and merge, one after another
  std::vector<std::size_t> kept_at_;  ///< per step: where its vector lies in kept_
  std::vector<int> kept_exponent_;    ///< per step
  std::vector<Scaled> masses_;        ///< per state of the problem
  std::vector<Scaled> alone_;         ///< per variable alone: its own mass
  std::vector<Scaled> alone_after_;   ///< and the product of those after it
  Scaled scheduled_;                  ///< mass of the variables in steps
  std::vector<OneBit> chain_;         ///< operators of a merge step, and of all after each
};

}  // namespace tickover::belief
