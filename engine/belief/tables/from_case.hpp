/// @file
/// A case with its evidence as a Bayesian network of plain tables, such as any solver reads.
///
/// As in the sweep, findings never observed are left out, and a finding seen absent folds into
/// single causes (and what inhibits their links): each of its links was silent. Any other is a
/// chain that takes up cause after cause, in the order in which the sweep takes them, and holds
/// what is accounted for so far (an OR node, where a binary finding was seen once); or, on request,
/// one table over all of them. Sensors and looks at causes are binary children, seen to be "as
/// observed" (virtual evidence, Pearl 1988, section 2.2.2).
#pragma once

#include <cstddef>
#include <vector>

#include "engine/belief/network.hpp"
#include "engine/belief/tables/factor.hpp"

namespace tickover::belief::tables {

/// What a variable stands for, and what its states are.
enum class Role {
  cause,    ///< its lives, in the order of lives()
  look,     ///< a CauseObservation: otherwise, as observed
  silent,   ///< a link, or the leak, of a finding seen absent: silent, not silent
  chain,    ///< as `finding`, from the leaks and the causes until `cause` (none: the leaks alone)
  finding,  ///< what of it is accounted for (FindingCourse): bit i of the state is epochs[i]
  sensed,   ///< whether the finding shows in the epoch epochs[0]: a sensor looks at it
  seen,     ///< all levels seen of a finding with sensors: otherwise, as observed
  sensor,   ///< a SoftObservation: otherwise, as observed
  group,    ///< one or several findings in one table: otherwise, as observed
};

constexpr std::size_t kNoCause = static_cast<std::size_t>(-1);

struct Node {
  Role role = Role::cause;
  std::size_t cause = kNoCause;            ///< cause, look, silent (none: the leak), chain
  std::vector<std::size_t> findings = {};  ///< all but cause and look
  std::vector<Epoch> epochs = {};  ///< chain, finding, sensed: as said there; sensor: its own
};

/// Variable i is nodes[i]; graph.factors[i] is its conditional table.
/// P(e) of the case is the network's P(observed) times exp(log_scale): likelihoods of sensors are
/// densities and were scaled to probabilities.
struct PlainNetwork {
  FactorGraph graph;
  std::vector<Node> nodes;
  std::vector<Observed> observed;
  double log_scale = 0;
};

enum class Form {
  decomposed,
  full,  ///< no variables beside the causes, as far as tables of `kMostParents` causes go
};
constexpr std::size_t kMostParents = 12;
/// Entries of such a table: causes can have more than two lives.
constexpr std::size_t kMostEntries = std::size_t{1} << 16;

/// The first variables are the causes.
PlainNetwork plain_network(const Case& given, Form form);

}  // namespace tickover::belief::tables
