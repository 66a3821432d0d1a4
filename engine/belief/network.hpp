/// @file
/// The probabilistic model: binary causes, and findings that are noisy functions of them.
/// Nothing here knows what the causes are causes of.
///
/// Example, the fever table of Russell & Norvig (AIMA, ch. "Probabilistic reasoning"):
/// three causes, one finding with leak {0} and links {0, {0.4}}, {1, {0.8}}, {2, {0.9}}.
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <memory>
#include <utility>
#include <vector>

namespace tickover::belief {

/// P(finding at exactly level 1, 2, .. | this cause alone): one entry per level above 0, sum <= 1.
/// Unit: probability. A binary finding has one level above 0.
struct Link {
  std::size_t cause = 0;
  std::vector<double> strength;
  /// Causes that hide what this one does: it produces nothing in an epoch in which any of them is
  /// present, and what it drew stands again when they are gone. Ascending.
  std::vector<std::size_t> inhibitors = {};
};

/// Leaky noisy-MAX (noisy-OR when binary): the level shown is the largest that the leak or any
/// present cause produces. Source: Henrion 1989; Diez 1993; Pearl 1988, section 4.3.2 for noisy-OR.
/// Inhibitors make a look that cannot show anything: a level observed then says what is not hidden.
/// No sensor (SoftObservation) looks at a finding with inhibitors.
struct Finding {
  std::vector<double> leak;  ///< P(exactly level 1, 2, .. | no listed cause); as long as strengths
  std::vector<Link> links;   ///< at most one per cause
  std::vector<std::size_t> leak_inhibitors = {};  ///< as Link::inhibitors, of the leak

  /// Whether anything can be hidden.
  bool inhibited() const {
    return !leak_inhibitors.empty() ||
           std::any_of(links.begin(), links.end(),
                       [](const Link& link) { return !link.inhibitors.empty(); });
  }
};

/// P(a source of these strengths, one for each level above 0, draws no more than `level`).
inline double draws_no_more_than(std::size_t level, const std::vector<double>& strength) {
  double more = 0;
  for (std::size_t l = level; l < strength.size(); ++l) more += strength[l];
  return std::max(1 - more, 0.0);
}

struct Cause {
  double prior = 0;      ///< P(present at epoch 0)
  double disturbed = 0;  ///< P(it newly arises at the start of an epoch listed in Case::windows)
  bool operator==(const Cause&) const = default;
};

struct Network {
  std::vector<Cause> causes;
  std::vector<Finding> findings;
};

/// A network that its copies share: cases are copied for every thought, networks are large.
class SharedNetwork {
 public:
  SharedNetwork() : network_(none()) {}
  SharedNetwork(Network network) : network_(std::make_shared<Network>(std::move(network))) {}

  const Network& operator*() const { return *network_; }
  const Network* operator->() const { return network_.get(); }

  /// To be changed; where others share it, a copy of one's own first.
  Network& own() {
    if (network_.use_count() > 1) network_ = std::make_shared<Network>(*network_);
    return *network_;
  }

 private:
  static const std::shared_ptr<Network>& none() {
    static const auto network = std::make_shared<Network>();
    return network;
  }
  std::shared_ptr<Network> network_;  ///< none only once moved from
};

/// Epochs count repairs: epoch 0 is the machine as found. An observation belongs to an epoch.
using Epoch = std::size_t;

/// The finding showed exactly this level (0 = absent) in this epoch.
struct LevelObservation {
  std::size_t finding = 0;
  Epoch epoch = 0;
  std::size_t level = 0;
  std::size_t source = 0;  ///< caller's tag (an entry number), for naming conflicts and weights
};

/// A noisy sensor on one or several binary findings at once. `likelihood` has 2^findings.size()
/// entries; bit i of the index is set when findings[i] is at level 1. Unit: density, any common
/// factor.
struct SoftObservation {
  std::vector<std::size_t> findings;
  Epoch epoch = 0;
  std::vector<double> likelihood;
  std::size_t source = 0;
};

/// Something seen of one cause alone: P(seen | present in that epoch), P(seen | absent).
struct CauseObservation {
  std::size_t cause = 0;
  Epoch epoch = 0;
  double present = 1;
  double absent = 1;
  std::size_t source = 0;
};

/// The cause, if present, is gone with probability `success` from the start of `epoch` on. Epochs
/// after Case::now are none yet: such a removal changes nothing. In one epoch removals come before
/// windows.
struct Removal {
  std::size_t cause = 0;
  Epoch epoch = 1;
  double success = 1;
  std::size_t source = 0;
  bool operator==(const Removal&) const = default;
};

/// From the start of `epoch` on the causes of `finding` (and its leak, drawn afresh) may newly have
/// arisen: wanted where a finding that was absent is present later. In Case::fades they may have
/// ended instead.
struct Window {
  std::size_t finding = 0;
  Epoch epoch = 1;
};

/// All evidence on one network. Semantics (2-model of the design; Breese & Heckerman 1996, with the
/// noise of links persisting too): a cause is present during one interval of epochs. It was there
/// at epoch 0 with its prior, or, failing that, it arises at the first open window at which it is
/// disturbed; it ends at its first successful removal (or fades). What each link and each leak
/// would produce is drawn once and holds in every epoch in which its cause is present: a cause that
/// did (not) produce the finding before a repair goes on (not) doing so. A leak lives from epoch 0
/// on; a window adds a second, independent leak from its epoch on. At the start of an epoch at
/// which a finding fades, each of its causes and leaks present ends with probability `fade` too,
/// whatever was repaired: parts are moved and wiped without anybody noticing what that cured.
struct Case {
  SharedNetwork network;
  std::vector<LevelObservation> levels;
  std::vector<SoftObservation> soft;
  std::vector<CauseObservation> seen;
  std::vector<Removal> removals;
  std::vector<Window> windows;
  Epoch now = 0;                   ///< the current epoch; no observation is later
  std::vector<Window> fades = {};  ///< findings that were present, and absent later
  double fade = 0;                 ///< P(what could produce such a finding ends there unnoticed)
  /// Expected number of findings taken as absent to narrow the case (decide.hpp) that were not; 0
  /// for a whole one. Answers move by about so much.
  double doubt = 0;
};

/// The epochs [begin, end) in which a cause is present.
struct Life {
  Epoch begin = 0;
  Epoch end = 0;
  bool in(Epoch epoch) const { return begin <= epoch && epoch < end; }
  bool operator==(const Life&) const = default;
};

constexpr Epoch kForever = std::numeric_limits<Epoch>::max();

/// One way a cause can have lived, with its probability before any observation.
struct LifeChance {
  Life life;  ///< {0, 0} when it was never present
  double probability = 0;
};

/// All ways, summing to 1: never present first, then by begin and end. Removals that come when the
/// cause is absent change nothing.
std::vector<LifeChance> lives(const Case& given, std::size_t cause);

/// All ways a leak of `finding` that begins at `begin` can have lived; no way is "never".
std::vector<LifeChance> lives_of_leak(const Case& given, std::size_t finding, Epoch begin);

}  // namespace tickover::belief
