/// @file
/// A case compiled for the coverage recursion: variables that emit accumulator bits. Everything
/// lies in flat arrays that are filled anew without new memory. Inside belief only.
#pragma once

#include <algorithm>
#include <boost/container/small_vector.hpp>
#include <cstdint>
#include <vector>

#include "engine/belief/all_lives.hpp"
#include "engine/belief/network.hpp"
#include "engine/belief/scaled.hpp"

namespace tickover::belief {

/// Entries [begin, end) of one of Problem's arrays.
struct Range {
  std::uint32_t begin = 0, end = 0;
  std::uint32_t size() const { return end - begin; }
  bool operator==(const Range&) const = default;
};

/// With probability `weight` exactly the bits of `mask` are covered: bit i of the mask is bit
/// Problem::bits[finding].begin + i.
struct Alternative {
  double weight = 0;
  std::uint64_t mask = 0;
};

/// What one variable in one state contributes to one finding's bits. Weights may sum to less than
/// 1: the rest is ruled out by an observation. Where one bit is touched, as nearly always, that is
/// two numbers; where several are, a list.
struct Emission {
  std::uint32_t finding = 0;
  Range alternatives;             ///< of several bits
  std::uint64_t touched = 0;      ///< all masks together; 0: emits nothing any more
  double silent = 0, speaks = 0;  ///< weights of no bit and of the one bit

  bool one_bit() const { return (touched & (touched - 1)) == 0; }
};

/// Whether a state counts only if the variable is left alone before the prospect, or only if it is
/// removed.
enum class Fate : std::uint8_t { any, kept, removed };

struct State {
  Life life;
  double weight = 0;  ///< prior, local likelihood, and silence on absent findings
  Fate fate = Fate::any;
  Range emissions;
};

/// Bits that are closed together: the weight of each combination (bit i of the index = bits[i]).
/// Nearly always one bit, for which no memory is asked.
struct Group {  // NOLINT(bugprone-exception-escape): moving a small_vector takes no memory here
  boost::container::small_vector<std::uint32_t, 2> bits;
  boost::container::small_vector<double, 4> table;
};

/// The variables to be multiplied together, and the groups that close them. Variables below
/// `causes` are the causes, the others leaks; the states of variable v are `variables[v]`.
struct Problem {
  std::size_t causes = 0;
  std::vector<Range> variables;
  std::vector<State> states;
  std::vector<Emission> emissions;
  std::vector<Alternative> alternatives;
  std::vector<Group> groups;
  std::vector<Range> bits;  ///< per finding
  std::size_t bit_count = 0;
  Scaled scale{1, 0};  ///< factor of observations that tell nothing, and of leaks silent
};

/// Calls use(alternative) for each possibility of an emission, none of weight 0.
template <class Use>
void each_alternative(const Problem& problem, const Emission& emission, const Use& use) {
  if (emission.touched != 0 && emission.one_bit()) {
    if (emission.silent > 0) use(Alternative{emission.silent, 0});
    if (emission.speaks > 0) use(Alternative{emission.speaks, emission.touched});
    return;
  }
  for (std::uint32_t a = emission.alternatives.begin; a < emission.alternatives.end; ++a) {
    use(problem.alternatives[a]);
  }
}

/// P(a source of these strengths draws exactly that level). Unit: probability.
inline double weight_of_level(const std::vector<double>& strength, std::size_t level) {
  if (level > 0) return strength[level - 1];
  if (strength.size() == 1) return std::max(1 - strength.front(), 0.0);
  double silent = 1;
  for (const double s : strength) silent -= s;
  return std::max(silent, 0.0);
}

/// Findings, ascending, that may need more bits than a word has: they cannot be compiled.
std::vector<std::size_t> observed_too_often(const Case& given);

/// Compiles case after case into one problem.
class Compiler {
 public:
  /// With `absent`, one more observation is that these findings do not show in epoch now + 1, and
  /// what would then be left has a state kept and a state removed. Findings listed in `set_aside`
  /// (sorted) are left out as if not observed.
  void compile(const Case& given, const std::vector<std::size_t>* absent,
               const std::vector<std::size_t>& set_aside, Problem& out);

 private:
  /// The observations of one finding; bits count from 0 within the finding.
  struct Watch {
    struct Seen {
      Epoch epoch;
      std::size_t level;
      std::uint64_t mask;  ///< its bit; 0 when the level is 0
    };
    struct Sensed {
      Epoch epoch;
      std::uint32_t bit;
    };
    std::vector<Seen> levels;
    std::vector<Sensed> soft;
    std::uint32_t bits = 0;
    bool prospect = false;  ///< must be absent in the epoch to come
    bool silent = true;     ///< nothing was seen but absence: needs no bit
    /// Silent, in one epoch alone, with nothing that can hide it: then it is one factor for a cause
    /// present, whatever its life.
    bool folds = false;
    bool once = false;  ///< binary, looked at once, present: the usual bit

    bool watched() const { return !levels.empty() || !soft.empty(); }
  };
  /// What the same inhibitors hide of one finding. It has bits of its own, as if it were a finding
  /// more: number watches_.size() + its index in parts_.
  struct Part {
    struct Look {
      Epoch epoch;
      std::size_t level;
      std::uint64_t shown;               ///< the finding's own bit
      std::uint64_t same = 0, more = 0;  ///< produces that level; produces one above it
      std::uint64_t hidden = 0;          ///< an inhibitor is present
      std::uint64_t told = 0;            ///< counts as shown by this part
    };
    std::uint32_t finding;
    const std::vector<std::size_t>* inhibitors;
    std::vector<Look> looks = {};
    std::uint32_t bits = 0;
  };
  struct LinkTo {
    std::uint32_t finding;                ///< or the number of a part
    const std::vector<double>* strength;  ///< none: the cause is an inhibitor of the part
    double first = 0;                     ///< of the strengths: all, where the finding is binary
  };
  struct SoftBits {
    const SoftObservation* soft;
    std::vector<std::uint32_t> bits;  ///< within each of its findings
  };

  bool aside(std::size_t finding) const;
  void watch_findings(const std::vector<std::size_t>* absent);
  void watch_level(const LevelObservation& seen);
  void watch_soft(const SoftObservation& soft);
  Epoch settled_since(std::size_t finding, Epoch epoch) const;
  std::uint32_t soft_bit(Watch& watch, Epoch epoch);
  void find_parts();
  bool implied(const LevelObservation& seen) const;
  bool can_only_fall(std::size_t finding) const;
  void add_part(std::uint32_t finding, const std::vector<std::size_t>& inhibitors);
  std::uint32_t target(std::uint32_t finding, const std::vector<std::size_t>& inhibitors) const;
  void number_bits();
  void add_part_groups(std::uint32_t part);
  void add_soft_group(const SoftBits& sensed);
  void index_links();
  void index_seen();
  void add_cause(std::size_t cause);
  void add_state(std::size_t cause, const LifeChance& chance, Fate fate);
  bool fill(std::size_t cause, State& state);
  void part_known_causes();
  bool cover(const LinkTo& link, Life life, State& state);
  bool cover(const Watch& watch, const std::vector<double>& strength, Life life, std::uint32_t f,
             State& state);
  bool cover_bit(const Watch& watch, const std::vector<double>& strength, Life life,
                 std::uint32_t f, State& state);
  bool cover_part(const Part& part, const std::vector<double>& strength, Life life, State& state);
  bool emit(std::uint32_t target, Range alternatives, State& state);
  void take_list(Emission& emission, State& state);
  void hide(const Part& part, Life life, State& state);
  bool touch(const LinkTo& link, Life life, State& state);
  bool touch_part(const LinkTo& link, Life life, State& state);
  bool in_prospect(const LinkTo& link) const;
  void add_relays(const Part& part);
  std::uint32_t number_of(const Part& part) const;
  static bool keep_silent(const Watch& watch, const std::vector<double>& strength, Life life,
                          State& state);
  bool cover_one(const Watch::Seen& seen, double strength, Life life, std::uint32_t f,
                 State& state);
  void add_alternative(Range& range, double weight, std::uint64_t mask);
  void add_leak(std::size_t finding, Epoch begin);
  void add_leaks(std::size_t finding);
  void merge_implied_bits();
  bool implies(std::size_t finding, std::uint64_t one, std::uint64_t other) const;
  void drop(std::size_t finding, std::uint64_t mask);

  const Case* given_ = nullptr;
  const std::vector<std::size_t>* set_aside_ = nullptr;
  bool prospects_ = false;
  Problem* out_ = nullptr;
  AllLives lives_;
  std::vector<Watch> watches_;
  std::vector<std::uint32_t> watched_;  ///< findings with a watch, ascending
  std::vector<Part> parts_;
  std::vector<SoftBits> soft_;
  std::vector<LinkTo> links_;            ///< of all causes, those of watched findings
  std::vector<double> quiet_;            ///< per cause: all its links that fold, silent
  std::vector<std::uint32_t> links_of_;  ///< per cause and one more: where its links begin
  std::vector<std::uint32_t> seen_;      ///< indices into Case::seen, by cause
  std::vector<std::uint32_t> seen_of_;
};

}  // namespace tickover::belief
