/// @file
/// A machine's data sheet: which carburettor feeds which cylinder, wanted values, minutes.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "engine/foundation/units.hpp"

namespace tickover {

/// What a value should be and how far off it may be (SI; for temperatures a difference in kelvin).
struct Wanted {
  Quantity value;
  double tolerance = 0;
  std::string unit;  ///< as the sheet gives it, for showing
};

struct Carburettor {
  std::string name;
  std::vector<std::size_t> feeds;  ///< cylinder numbers, from 1
};

struct LayerMinutes {
  double open = 0, close = 0;
};

/// A sheet that exists is valid: every cylinder hangs on exactly one carburettor.
struct Machine {
  std::string id, name, note;
  bool invented = true;
  std::vector<std::string> cylinders;  ///< names; numbered from 1 in this order
  std::vector<Carburettor> carburettors;
  std::vector<std::string> features;
  std::map<std::string, Wanted> wanted;
  std::map<std::string, LayerMinutes> layers;  ///< where they differ from the pack's
  std::string sheet;                           ///< the JSON text it was read from, compact

  /// Number (from 1) of the carburettor that feeds cylinder `cylinder` (from 1).
  std::size_t carburettor_of(std::size_t cylinder) const;
  bool has(const std::string& feature) const;
  /// "1 front, 2 rear"; "" where the cylinders have no names but their numbers.
  std::string cylinder_names() const;
};

/// Parses and checks a sheet; `schema` is the text of machine.schema.json, `file` names the text in
/// errors. Throws InputError (data).
Machine load_machine(const std::string& text, const std::string& schema, const std::string& file);

}  // namespace tickover
