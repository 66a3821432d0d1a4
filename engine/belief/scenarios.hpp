/// @file
/// What may be the matter, drawn from the exact posterior: for planning, where many questions are
/// asked of one belief and each alone would be a sweep.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <utility>
#include <vector>

#include "engine/belief/checkpoints.hpp"
#include "engine/belief/infer.hpp"
#include "engine/belief/network.hpp"

namespace tickover::belief {

/// One way things may stand now.
struct Scenario {
  double draws = 0;  ///< that stand so; of weighed draws, as many equally probable ones
  double share = 0;  ///< of the posterior; shares sum to 1
  std::vector<std::uint32_t> present;  ///< causes present now, ascending
  /// Causes, ascending, with the probability that the findings last while this cause is there:
  /// that it produces one of them, as far as what was drawn leaves that open, and does not fade.
  std::vector<std::pair<std::uint32_t, double>> must_go;
  double curable = 1;  ///< P(nothing unlisted makes the findings last)

  /// P(the findings are gone) when each cause is still there with probability `kept`.
  double cured(const std::vector<double>& kept) const {
    double all = curable;
    for (const auto& [cause, lasts] : must_go) all *= 1 - lasts * kept[cause];
    return all;
  }
};

class Prepared;
struct Tilted;
class GivenLives;

/// Rough P(cause present now), one per cause, worked out when asked for.
using RoughPresent = std::function<std::vector<double>()>;

/// A case from which scenarios can be drawn.
class Scenarios {
 public:
  /// `findings` are what must be gone, as for Prospects. Where more than `widest` bits would be
  /// open at once, findings are set aside, those last; `present` is asked for then, the priors are
  /// taken where that is empty or not known. `given` must stay.
  Scenarios(const Case& given, const std::vector<std::size_t>& findings,
            std::size_t widest = kWidest, const RoughPresent& present = {});
  ~Scenarios();

  /// Findings that were not drawn with the causes, ascending: the draws are tilted towards what was
  /// seen of them (tilted.hpp) and weighed by it (given_lives.hpp; importance sampling: Koller &
  /// Friedman 2009, section 12.2, from memory).
  const std::vector<std::size_t>& set_aside() const;
  /// Of those, ascending, the ones that nothing but the tilt tells of.
  const std::vector<std::size_t>& unweighed() const;
  /// See draw_scenarios. `plenty` as in segments(): it changes no draw, only memory and time. None
  /// too where no draw allows what was set aside.
  std::vector<Scenario> draw(std::size_t count, std::uint64_t seed = 1,
                             std::size_t plenty = kKeptPlenty) const;
  /// As the tilt alone has it.
  std::vector<Scenario> draw_unweighed(std::size_t count, std::uint64_t seed = 1) const;

 private:
  const Case& given_;
  std::unique_ptr<Prepared> ready_;
  std::unique_ptr<Tilted> tilted_;    ///< where any are set aside
  std::unique_ptr<GivenLives> seen_;  ///< of those
};

/// `count` draws, those alike put together, in an order of their own. Every draw by itself follows
/// P(causes present and what they produce | e); together they follow it more closely than
/// independent ones would, since at each variable as many draws take a state as is its due, to
/// within one (systematic sampling: Carpenter, Clifford & Fearnhead 1999, from memory). `findings`
/// are what must be gone, as for Prospects. Same arguments, same draws. None when the evidence
/// contradicts itself.
/// Method: the forward pass of the coverage recursion, then the variables backwards, each drawn
/// given the coverage that those drawn already leave to be explained (forward filtering, backward
/// sampling).
std::vector<Scenario> draw_scenarios(const Case& given, const std::vector<std::size_t>& findings,
                                     std::size_t count, std::uint64_t seed = 1);

}  // namespace tickover::belief
