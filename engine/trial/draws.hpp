/// @file
/// Random numbers that depend on what they are for and not on when they are asked for: every policy
/// meets the same chances whatever it does before (common random numbers).
#pragma once

#include <cstdint>
#include <vector>

namespace tickover::trial {

/// What a number decides; each purpose has numbers of its own.
enum class Purpose : std::uint64_t {
  risk,
  cause,
  leak,
  link,
  told,
  outcome,     ///< what an inspection shows
  part,        ///< how far a part lies off
  common,      ///< the level that siblings share
  instrument,  ///< error of one look
  slip,        ///< a reading that says nothing, as the pack has it
  misread,     ///< a slip of the mechanic
  success,     ///< of a repair
  fade_cause,
  fade_leak,
  perturb,
  bootstrap,
  again,      ///< whether repairs of a cause are new luck each
  threshold,  ///< that they must pass, where not
};

/// Where within a purpose: up to three indices.
struct Key {
  std::uint64_t a = 0, b = 0, c = 0;
};

/// A stream of numbers, each addressed by purpose and key: mixed once for every part of the
/// address.
class Draws {
 public:
  Draws(std::uint64_t seed, std::uint64_t stream, std::uint64_t attempt = 0);

  double uniform(Purpose purpose, Key key) const;      ///< above 0 and below 1
  double normal(Purpose purpose, Key key) const;       ///< mean 0, deviation 1
  double exponential(Purpose purpose, Key key) const;  ///< mean 1
  bool chance(double probability, Purpose purpose, Key key) const;
  /// Index drawn by `shares` (at most 1 in sum), or their number when none of them.
  std::size_t pick(const std::vector<double>& shares, Purpose purpose, Key key) const;

 private:
  std::uint64_t state_;
};

}  // namespace tickover::trial
