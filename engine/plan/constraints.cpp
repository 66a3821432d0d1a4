#include "engine/plan/constraints.hpp"

#include <algorithm>

#include "engine/foundation/text.hpp"

namespace tickover::plan {
namespace {

bool contains(const std::vector<std::string>& list, const std::string& id) {
  return std::find(list.begin(), list.end(), id) != list.end();
}

}  // namespace

bool any_named(const std::vector<std::string>& held, const std::vector<std::string>& named) {
  return std::any_of(held.begin(), held.end(), [&](const std::string& text) {
    return std::any_of(named.begin(), named.end(),
                       [&](const std::string& name) { return mentions(text, name); });
  });
}

bool Constraints::bars(const pack::Check& check) const {
  return contains(without, check.id) || (check.running && !running) ||
         any_named(check.tools, tools);
}

bool Constraints::bars(const pack::Finding& question) const {
  return contains(without, question.id);
}

bool Constraints::bars(const pack::Repair& repair) const {
  return contains(without, repair.id) || (repair.running && !running);
}

std::vector<std::string> Constraints::to_order(const pack::Repair& repair) const {
  std::vector<std::string> missing = repair.parts;
  std::erase_if(missing, [&](const std::string& part) { return !any_named({part}, parts); });
  return missing;
}

}  // namespace tickover::plan
