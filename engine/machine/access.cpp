#include "engine/machine/access.hpp"

namespace tickover {

Access::Access(const Model& model) : layers_(model.pack.layers) {
  for (std::size_t layer = 0; layer < layers_.size(); ++layer) {
    const std::vector<std::size_t> needed = pack::with_prerequisites(model.pack, {layer});
    OpenLayers present;  // a machine may lack a layer, say an airbox: then it is no obstacle
    for (const std::size_t one : needed) {
      if (model.applies(layers_[one].needs)) present.insert(one);
    }
    prerequisites_.push_back(present);
    if (!layers_[layer].runs_open) stops_engine_.insert(layer);
  }
}

OpenLayers Access::with_prerequisites(const std::vector<std::size_t>& layers) const {
  OpenLayers open;
  for (const std::size_t layer : layers) open = open | prerequisites_[layer];
  return open;
}

AccessNeed Access::need_of(const pack::Check& check) const {
  return {with_prerequisites(check.open), check.running};
}

AccessNeed Access::need_of(const pack::Repair& repair) const {
  return {with_prerequisites(repair.open), false};
}

AccessNeed Access::closed() const { return {{}, true}; }

OpenLayers Access::without(const OpenLayers& now, std::size_t layer) const {
  OpenLayers left;
  for (const std::size_t open : now) {
    if (!prerequisites_[open].contains(layer)) left.insert(open);
  }
  return left;
}

OpenLayers Access::after(const OpenLayers& now, const AccessNeed& need) const {
  OpenLayers state = now;
  if (need.running) {
    for (const std::size_t open : now - (now - stops_engine_)) state = without(state, open);
  }
  return state | need.open;
}

AccessMinutes Access::minutes(const OpenLayers& from, const OpenLayers& to) const {
  AccessMinutes minutes;
  for (const std::size_t layer : to - from) minutes.open += layers_[layer].open_minutes;
  for (const std::size_t layer : from - to) minutes.close += layers_[layer].close_minutes;
  return minutes;
}

}  // namespace tickover
