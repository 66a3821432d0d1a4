#include <algorithm>

#include "engine/vet/vet.hpp"

namespace tickover::vet {

std::string_view name_of(Severity severity) {
  switch (severity) {
    case Severity::error:
      return "error";
    case Severity::warning:
      return "warning";
    case Severity::note:
      return "note";
  }
  return {};
}

const std::vector<std::string>& rules() {
  static const std::vector<std::string> names = {
      "data",        "sheet",          "blind-spot",      "not-told-apart",    "dominated-check",
      "unexplained", "without-reason", "without-basis",   "caution-missing",   "text-missing",
      "no-repair",   "no-words",       "source-not-used", "exception-not-used"};
  return names;
}

std::string place_in(const std::string& list, std::size_t index) {
  const std::string file = list == "layers" ? "access" : list;
  return file + ".json#/" + list + "/" + std::to_string(index);
}

std::vector<Remark> merged(const std::vector<std::vector<Remark>>& by_machine,
                           const std::vector<std::string>& machines) {
  std::vector<Remark> all;
  for (std::size_t m = 0; m < by_machine.size(); ++m) {
    for (const Remark& remark : by_machine[m]) {
      auto known = std::find_if(all.begin(), all.end(), [&](const Remark& one) {
        return one.rule == remark.rule && one.about == remark.about;
      });
      if (known == all.end()) known = all.insert(all.end(), remark);
      known->machines.push_back(machines[m]);
      known->severity = std::min(known->severity, remark.severity);
    }
  }
  for (Remark& remark : all) {
    if (remark.machines.size() == machines.size()) remark.machines.clear();
  }
  return all;
}

}  // namespace tickover::vet
