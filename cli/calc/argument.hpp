/// @file
/// The arguments of a calculator: one table drives parsing, help, JSON and errors.
#pragma once

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "cli/option.hpp"
#include "cli/words.hpp"
#include "engine/foundation/units.hpp"

namespace tickover::cli {

using Json = nlohmann::ordered_json;

/// One argument, written --name VALUE.
struct Argument {
  std::string name;
  std::string unit;        ///< of limits and answers; its dimension is the argument's
  double low, high;        ///< what it may be, in `unit`
  std::string help;        ///< what it is, as a noun
  std::string usual = {};  ///< what holds when it is not given, "20 degC"; empty for nothing
  bool needed = false;
  bool list = false;                      ///< several values, parted by commas: one per cylinder
  std::vector<std::string> choices = {};  ///< words to choose from, in place of a value
};

/// A word out of `choices`; the first holds when none is given.
Argument choice(std::string name, std::vector<std::string> choices, std::string help);

/// The arguments as options of a command.
std::vector<Option> options_of(const std::vector<Argument>& arguments);

/// What was written, read by the table.
class Inputs {
 public:
  /// Throws InputError (usage) with "--name" as place for what is missing, given twice, of another
  /// dimension, without unit or out of range.
  Inputs(const std::vector<Argument>& arguments, const Words& words);

  /// True when written on the line.
  bool given(const std::string& name) const;
  /// The value given or usual. Throws InputError (usage) when there is neither.
  template <Dimension D>
  Si<D> value(const std::string& name) const {
    return typed<D>(several(name).front());
  }
  double number(const std::string& name) const { return several(name).front().si; }
  /// A count. Throws InputError (usage) for 2.5.
  int whole(const std::string& name) const;
  template <Dimension D>
  std::vector<Si<D>> values(const std::string& name) const {
    std::vector<Si<D>> out;
    for (const Quantity& one : several(name)) out.push_back(typed<D>(one));
    return out;
  }
  const std::string& word(const std::string& name) const;

  /// {"hole": {"value": 1, "unit": "mm", "si": 0.001}, ...}; "usual": true where none was given.
  Json json() const;
  /// The usual values that were used: "--lambda 0.9: lambda at idle before the leak".
  std::vector<std::string> assumed() const;

 private:
  struct Input {
    Argument argument;
    bool given;
    std::vector<Quantity> values;
    std::string word;
  };
  static Input read(const Argument& argument, const Words& words);
  const std::vector<Quantity>& several(const std::string& name) const;

  std::vector<std::string> order_;
  std::map<std::string, Input> inputs_;
};

}  // namespace tickover::cli
