#include "engine/machine/access.hpp"

namespace tickover {

Access::Access(const Model& model) {
  const std::vector<pack::Layer>& layers = model.pack.layers;
  for (std::size_t layer = 0; layer < layers.size(); ++layer) {
    const std::vector<std::size_t> needed = pack::with_prerequisites(model.pack, {layer});
    OpenLayers present;  // a machine may lack a layer, say an airbox: then it is no obstacle
    for (const std::size_t one : needed) {
      if (model.applies(layers[one].needs)) present.insert(one);
    }
    prerequisites_.push_back(present);
    if (!layers[layer].runs_open) stops_engine_.insert(layer);
    open_minutes_.push_back(layers[layer].open_minutes);
    close_minutes_.push_back(layers[layer].close_minutes);
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
  for (const std::size_t layer : to - from) minutes.open += open_minutes_[layer];
  for (const std::size_t layer : from - to) minutes.close += close_minutes_[layer];
  return minutes;
}

}  // namespace tickover
