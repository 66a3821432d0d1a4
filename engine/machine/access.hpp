/// @file
/// What must be open or closed to do something, and what changing over takes.
#pragma once

#include <array>
#include <vector>

#include "engine/machine/layer_set.hpp"
#include "engine/machine/model.hpp"

namespace tickover {

/// Open layers. Always complete: whatever an open layer is behind is open too.
using OpenLayers = LayerSet;

/// Layers that must be open and layers that must not be.
struct AccessNeed {
  OpenLayers open = {};  ///< complete
  OpenLayers shut = {};  ///< for a running engine, all that stop it
  bool running = false;  ///< the engine runs
};

/// Minutes of taking apart and of putting together.
struct AccessMinutes {
  double open = 0, close = 0;
  double total() const { return open + close; }
};

/// Minutes summed over a set of layers, from a table for every eight of them.
class MinutesTable {
 public:
  /// `minutes`: one per layer.
  explicit MinutesTable(const std::vector<double>& minutes);

  double of(const LayerSet& layers) const {
    double sum = 0;
    for (std::size_t byte = 0; byte < tables_.size(); ++byte)
      sum += tables_[byte][layers.byte(byte)];
    return sum;
  }

 private:
  std::vector<std::array<double, 256>> tables_;
};

/// The layers of a machine as a graph, answered from tables made once.
class Access {
 public:
  explicit Access(const Model& model);

  AccessNeed need_of(const pack::Check& check) const;
  AccessNeed need_of(const pack::Repair& repair) const;
  /// Everything closed and the engine able to run: what a verification needs.
  AccessNeed closed() const;

  /// The state after the cheapest change from `now` that satisfies `need`: nothing is closed that
  /// need not be.
  OpenLayers after(const OpenLayers& now, const AccessNeed& need) const;
  /// Minutes of changing from one complete state to another.
  AccessMinutes minutes(const OpenLayers& from, const OpenLayers& to) const {
    return {open_minutes_.of(to - from), close_minutes_.of(from - to)};
  }
  /// Minutes of opening, from `from`, what is not open yet of `need`, and of closing it again.
  double there_and_back(const OpenLayers& from, const OpenLayers& need) const {
    const OpenLayers more = need - from;
    if (more.empty()) return 0;
    return open_minutes_.of(more) + close_minutes_.of(more);
  }

  /// `layers` and all that must be open before them.
  OpenLayers with_prerequisites(const std::vector<std::size_t>& layers) const;
  /// `now` without `layer` and all that lies behind it.
  OpenLayers without(const OpenLayers& now, std::size_t layer) const;

 private:
  MinutesTable open_minutes_, close_minutes_;
  std::vector<OpenLayers> prerequisites_;  ///< per layer, itself included
  OpenLayers stops_engine_;                ///< layers that keep the engine from running when open
};

}  // namespace tickover
