#include "engine/machine/machine.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "engine/foundation/error.hpp"
#include "engine/foundation/json_document.hpp"
#include "engine/foundation/text.hpp"

namespace tickover {
namespace {

using nlohmann::json;

[[noreturn]] void fail(const std::string& file, const std::string& pointer, const std::string& what,
                       const std::string& hint = {}) {
  throw InputError(InputFault::data, json_place(file, pointer), what, hint);
}

Wanted read_wanted(const json& node, const std::string& key, const std::string& file) {
  const std::string unit = node.at("unit"), pointer = "/wanted/" + key;
  if (!known_unit(unit)) {
    throw unknown_name(InputFault::data, json_place(file, pointer + "/unit"), "unit", unit,
                       all_units());
  }
  const double tolerance = difference_to_si(node.at("tolerance").get<double>(), unit);
  if (!std::isfinite(tolerance)) fail(file, pointer + "/tolerance", "the tolerance is too large");
  try {
    return {quantity_in(node.at("value").get<double>(), unit), tolerance, unit};
  } catch (const InputError& error) {  // below absolute zero, or too large
    fail(file, pointer + "/value", "this cannot be a value in " + unit, error.hint());
  }
}

void check_carburettors(const Machine& machine, const std::string& file) {
  std::vector<int> fed(machine.cylinders.size(), 0);
  for (std::size_t i = 0; i < machine.carburettors.size(); ++i) {
    for (const std::size_t cylinder : machine.carburettors[i].feeds) {
      if (cylinder <= fed.size()) {
        ++fed[cylinder - 1];
        continue;
      }
      fail(file, "/carburettors/" + std::to_string(i) + "/feeds",
           "there is no cylinder " + std::to_string(cylinder),
           "this machine has " + std::to_string(fed.size()));
    }
  }
  for (std::size_t i = 0; i < fed.size(); ++i) {
    if (fed[i] == 1) continue;
    fail(file, "/carburettors",
         "cylinder " + std::to_string(i + 1) + " is fed by " + std::to_string(fed[i]) +
             " carburettors",
         "each cylinder hangs on exactly one");
  }
}

void read_lists(const json& document, Machine& machine) {
  for (const json& node : document.at("carburettors")) {
    machine.carburettors.push_back(
        {node.at("name"), node.at("feeds").get<std::vector<std::size_t>>()});
  }
  if (!document.contains("layers")) return;
  for (const auto& [key, node] : document.at("layers").items()) {
    machine.layers[key] = {node.at("open-minutes"), node.at("close-minutes")};
  }
}

}  // namespace

std::size_t Machine::carburettor_of(std::size_t cylinder) const {
  for (std::size_t i = 0; i < carburettors.size(); ++i) {
    const std::vector<std::size_t>& feeds = carburettors[i].feeds;
    if (std::find(feeds.begin(), feeds.end(), cylinder) != feeds.end()) return i + 1;
  }
  return 0;  // not reached: a sheet that exists feeds every cylinder
}

std::string Machine::cylinder_names() const {
  std::vector<std::string> named;
  for (std::size_t i = 0; i < cylinders.size(); ++i) {
    const std::string number = std::to_string(i + 1);
    if (cylinders[i] != number) named.push_back(number + " " + cylinders[i]);
  }
  return named.empty() ? "" : join_words(named, ", ");
}

bool Machine::has(const std::string& feature) const {
  if (feature == "multi") return carburettors.size() > 1;
  return std::find(features.begin(), features.end(), feature) != features.end();
}

Machine load_machine(const std::string& text, const std::string& schema, const std::string& file) {
  const json document = parse_json(text, file);
  JsonSchema(schema).validate(document, "machine-file", file);
  require_printable(document, file);
  Machine machine;
  machine.id = document.at("id");
  machine.name = document.at("name");
  machine.note = document.value("note", "");
  machine.invented = document.at("invented");
  machine.cylinders = document.at("cylinders").get<std::vector<std::string>>();
  machine.features = document.at("features").get<std::vector<std::string>>();
  for (const auto& [key, node] : document.at("wanted").items()) {
    machine.wanted.emplace(key, read_wanted(node, key, file));
  }
  read_lists(document, machine);
  check_carburettors(machine, file);
  machine.sheet = json_text(document);
  return machine;
}

}  // namespace tickover
