#include "cli/features.hpp"

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
  names.erase("multi");
  return names;
}

}  // namespace tickover::cli
