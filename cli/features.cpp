#include "cli/features.hpp"

#include "engine/machine/machine.hpp"

namespace tickover::cli {

std::map<std::string, std::vector<std::string>> features_asked_for(const pack::Pack& pack) {
  std::map<std::string, std::vector<std::string>> names;
  const auto add = [&](const auto& entries) {
    for (const auto& entry : entries)
      for (const std::string& feature : entry.needs) names[feature].push_back(entry.name);
  };
  add(pack.causes);
  add(pack.repairs);
  add(pack.checks);
  add(pack.findings);
  add(pack.layers);
  Machine bare;
  bare.carburettors.resize(2);
  std::erase_if(names, [&](const auto& one) { return bare.has(one.first); });
  return names;
}

}  // namespace tickover::cli
