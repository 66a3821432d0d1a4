#include "engine/machine/access.hpp"

namespace tickover {
namespace {

std::vector<double> minutes_of(const std::vector<pack::Layer>& layers,
                               double pack::Layer::*minutes) {
  std::vector<double> all;
  for (const pack::Layer& layer : layers) all.push_back(layer.*minutes);
  return all;
}

}  // namespace

MinutesTable::MinutesTable(const std::vector<double>& minutes) {
  for (std::size_t first = 0; first < minutes.size(); first += 8) {
    std::array<double, 256>& table = tables_.emplace_back();
    for (std::size_t i = 0; i < 8; ++i) {
      const double own = first + i < minutes.size() ? minutes[first + i] : 0;
      const std::size_t bit = std::size_t{1} << i;
      for (std::size_t rest = 0; rest < bit; ++rest) table[bit + rest] = table[rest] + own;
    }
  }
}

Access::Access(const Model& model)
    : open_minutes_(minutes_of(model.pack.layers, &pack::Layer::open_minutes)),
      close_minutes_(minutes_of(model.pack.layers, &pack::Layer::close_minutes)) {
  const std::vector<pack::Layer>& layers = model.pack.layers;
  for (std::size_t layer = 0; layer < layers.size(); ++layer) {
    const std::vector<std::size_t> needed = pack::with_prerequisites(model.pack, {layer});
    OpenLayers present;  // a machine may lack a layer, say an airbox: then it is no obstacle
    for (const std::size_t one : needed) {
      if (model.applies(layers[one].needs)) present.insert(one);
    }
    prerequisites_.push_back(present);
    if (!layers[layer].runs_open) stops_engine_.insert(layer);
  }
}

OpenLayers Access::with_prerequisites(const std::vector<std::size_t>& layers) const {
  OpenLayers open;
  for (const std::size_t layer : layers) open = open | prerequisites_[layer];
  return open;
}

AccessNeed Access::need_of(const pack::Check& check) const {
  OpenLayers shut = check.running ? stops_engine_ : OpenLayers{};
  for (const std::size_t layer : check.shut) shut.insert(layer);
  return {with_prerequisites(check.open), shut, check.running};
}

AccessNeed Access::need_of(const pack::Repair& repair) const {
  return {with_prerequisites(repair.open), repair.running ? stops_engine_ : OpenLayers{},
          repair.running};
}

AccessNeed Access::closed() const { return {{}, stops_engine_, true}; }

OpenLayers Access::without(const OpenLayers& now, std::size_t layer) const {
  OpenLayers left;
  for (const std::size_t open : now) {
    if (!prerequisites_[open].contains(layer)) left.insert(open);
  }
  return left;
}

OpenLayers Access::after(const OpenLayers& now, const AccessNeed& need) const {
  OpenLayers state = now;
  for (const std::size_t open : now - (now - need.shut)) state = without(state, open);
  return state | need.open;
}

}  // namespace tickover
