/// @file
/// One pass forward, one backward over a scheduled problem. Inside belief only.
#pragma once

#include <boost/align/aligned_allocator.hpp>
#include <vector>

#include "engine/belief/checkpoints.hpp"
#include "engine/belief/coverage.hpp"
#include "engine/belief/problem.hpp"
#include "engine/belief/scaled.hpp"
#include "engine/belief/schedule.hpp"

namespace tickover::belief {

/// Per variable the probability that it is removed before the prospect.
using Shares = std::vector<double>;

/// A problem laid out: emissions (by the problem's numbers) as covers of slots.
class Placed {
 public:
  void place(const Problem& problem, const Schedule& schedule);

  /// The emissions of a state in turn, in place; and the transpose. Not the state's weight.
  void apply(const State& state, double* v, std::size_t size) const;
  void apply_transposed(const State& state, double* u, std::size_t size) const;
  /// The same from v or u into `out`.
  void apply(const State& state, const double* v, double* out, std::size_t size) const;
  void apply_transposed(const State& state, const double* u, double* out, std::size_t size) const;
  /// An emission that touches one bit, or none (then it is the identity).
  const OneBit& one(std::uint32_t e) const { return ones_[e]; }

 private:
  void apply(std::uint32_t e, double* v, std::size_t size) const;
  void apply_transposed(std::uint32_t e, double* u, std::size_t size) const;

  bool touch_one_bit_each(const State& state) const;

  std::vector<OneBit> ones_;  ///< per emission; without a bit where it has covers, or emits nothing
  std::vector<Range> covers_of_;  ///< per emission: its part of covers_
  std::vector<Cover> covers_;
};

/// Opens, closes: v has room for the larger of the two sizes of `step`.
void open_bits(const Step& step, double* v);
void close_bits(const Problem& problem, const Schedule& schedule, const Step& step, double* v);
void close_bits_transposed(const Problem& problem, const Schedule& schedule, const Step& step,
                           double* u);

/// Vectors that begin with a line of the cache: else every other access of four straddles two.
constexpr std::size_t kLine = 64;
using Entries = std::vector<double, boost::alignment::aligned_allocator<double, kLine>>;

/// Masses of a problem. Keeps its memory from one problem to the next.
class Sweep {
 public:
  /// Takes another problem; it and its schedule must stay until the next call. `plenty` as in
  /// segments(): it changes no result, only memory and time.
  void set(const Problem& problem, const Schedule& schedule, std::size_t plenty = kKeptPlenty);

  /// Numbers held of the last problem whose vectors were kept, apart from a few for each variable.
  std::size_t held() const { return kept_.size() + checkpoints_.size() + longest_ * 4; }

  /// Total mass: P(e). `shares` tells how likely each variable is removed, for problems compiled
  /// with a prospect; without it none is.
  Scaled forward(const Shares* shares = nullptr);

  /// The same, taken up where the shares first differ from those of the call before: for question
  /// after question about one problem.
  Scaled forward_again(const Shares& shares);

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
  void add_to(double* sum, const double* v, double plain, double weight, std::size_t size) const;
  void apply_step_transposed(const Step& step, const double* before, int exponent, const double* u,
                             double* sum);
  void merge_masses(const Range& variables, const double* before, const double* u, std::size_t size,
                    std::uint32_t bit, int exponent);
  struct Segment {
    std::size_t first = 0, end = 0;  ///< steps
    std::size_t checkpoint_at = 0;   ///< where the vector before `first` lies in checkpoints_
    int exponent = 0;                ///< of that vector
  };

  void cut(std::size_t plenty);
  void cut_up(std::size_t plenty);
  std::size_t segment_of(std::size_t step) const {
    return segments_.size() == 1 ? 0 : segment_of_[step];
  }
  void make_room();
  void find_first_steps();
  void keep_checkpoint(std::size_t segment, int exponent);
  void take_up(std::size_t segment);
  void recall(std::size_t segment);
  int run(std::size_t first, std::size_t end, int exponent);
  void run_to_end(std::size_t first, int exponent);
  Scaled alone_product();
  void alone_masses(const Scaled& scheduled);
  static void rescale(Entries& v, std::size_t size, int& exponent);

  const Problem* problem_ = nullptr;
  const Schedule* schedule_ = nullptr;
  Placed placed_;
  const Shares* shares_ = nullptr;
  bool keep_ = false;                      ///< the forward pass keeps its vectors
  bool taken_up_ = false;                  ///< those kept are of the pass with the shares below
  Shares before_;                          ///< of the last forward_again
  std::vector<std::uint32_t> first_step_;  ///< per variable: the first step that depends on it
  Entries v_, next_, scratch_;
  Entries backward_;  ///< the vector of the pass backwards while one runs forward again
  std::size_t longest_ = 1;
  std::vector<Segment> segments_;
  std::size_t most_kept_ = 0, checkpointed_ = 0;  ///< numbers for kept_ and checkpoints_
  std::vector<std::size_t> segment_of_;           ///< per step, where there are several
  std::size_t held_ = 0;                          ///< the segment whose vectors are in kept_
  Entries checkpoints_;                           ///< vectors before the first step of each segment
  Entries kept_;  ///< vectors before each apply and merge of a segment, in order
  std::vector<std::size_t> kept_at_;  ///< per step: where its vector lies in kept_
  std::vector<int> kept_exponent_;    ///< per step
  std::vector<Scaled> masses_;        ///< per state of the problem
  std::vector<Scaled> alone_;         ///< per variable alone: its own mass
  std::vector<Scaled> alone_after_;   ///< and the product of those after it
  Scaled scheduled_;                  ///< mass of the variables in steps
  std::vector<OneBit> chain_;         ///< operators of a merge step, and of all after each
};

}  // namespace tickover::belief
