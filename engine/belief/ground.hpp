/// @file
/// From a model and its evidence to a case of the generic network.
#pragma once

#include <optional>
#include <vector>

#include "engine/belief/network.hpp"
#include "engine/evidence/evidence.hpp"

namespace tickover::belief {

/// Which node of the network stands for which finding instance of the model. Causes keep their
/// index. A reading has a node for each direction, "moved low" and "moved high", and an exhaust
/// sample "thinned"; an inspection has none.
class Ground {
 public:
  explicit Ground(const Model& model);

  const Network& network() const { return *network_; }
  /// The node of a symptom or response; of a reading, its "moved low" (the next are the others, in
  /// the order of pack::Direction).
  std::optional<std::size_t> node_of(std::size_t finding) const { return nodes_[finding]; }
  std::vector<std::size_t> nodes_of(const std::vector<std::size_t>& findings) const;

  /// The whole evidence as a case.
  Case given(const Evidence& evidence) const;
  /// Adds one observation to a case.
  void observe(Case& given, const Observation& seen) const;

 private:
  static void add_windows(Case& given);

  const Model& model_;
  SharedNetwork network_;
  std::vector<std::optional<std::size_t>> nodes_;
};

}  // namespace tickover::belief
