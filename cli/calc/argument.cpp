#include "cli/calc/argument.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/report.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/measured.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

InputError refusal(const Argument& argument, const std::string& what, const std::string& hint) {
  return InputError(InputFault::usage, "--" + argument.name, what, hint);
}

std::string told(double number, const Argument& argument) {
  return format_quantity(quantity_in(number, argument.unit), argument.unit);
}

/// "0.05 to 20 mm".
std::string limits(const Argument& argument) {
  return shortest(argument.low) + " to " + told(argument.high, argument);
}

std::string shape(const Argument& argument) {
  if (!argument.choices.empty()) return join_words(argument.choices, "|", "|");
  std::string name = dimension_name(dimension_of(argument.unit));
  if (name == "fraction") name = "share";
  if (name == "frequency") name = "speed";
  for (char& c : name) c = c == ' ' ? '-' : static_cast<char>(c - 'a' + 'A');
  return argument.list ? name + ",..." : name;
}

std::string described(const Argument& argument) {
  std::string text = argument.help;
  if (argument.choices.empty()) text += "; " + limits(argument);
  if (!argument.choices.empty()) text += "; usual " + argument.choices.front();
  if (!argument.usual.empty()) text += "; usual " + argument.usual;
  return text + (argument.needed ? "; needed" : "");
}

void require_limits(const Argument& argument, const Quantity& value) {
  const double number = in_unit(value, argument.unit);
  const double slack = 1e-9 * (std::abs(argument.low) + std::abs(argument.high));
  if (number >= argument.low - slack && number <= argument.high + slack) return;
  throw refusal(argument, format_quantity(value, argument.unit) + " is out of range",
                "it goes from " + limits(argument));
}

/// Puts the argument's name before what the parser of quantities has to say.
Quantity read_one(const Argument& argument, const std::string& text) try {
  const Quantity value = parse_measured(text, argument.unit);
  require_limits(argument, value);
  return value;
} catch (const InputError& error) {
  throw refusal(argument, error.rule(), error.hint());
}

/// Parts "24.5kPa,26kPa" at the commas; one behind a digit is a decimal comma ("24,5kPa").
std::vector<std::string> values_parted(const std::string& text) {
  std::vector<std::string> parts(1);
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool behind_digit = i > 0 && text[i - 1] >= '0' && text[i - 1] <= '9';
    const bool parts_here = text[i] == ';' || (text[i] == ',' && !behind_digit);
    if (parts_here) {
      parts.emplace_back();
    } else {
      parts.back() += text[i];
    }
  }
  return parts;
}

std::vector<Quantity> read_list(const Argument& argument, const std::string& text) {
  std::vector<Quantity> values;
  for (const std::string& part : values_parted(text)) {
    if (part.find(',') != std::string::npos && part.find(',') != part.rfind(',')) {
      throw refusal(argument, "'" + printable(text) + "' can be read in several ways",
                    "write each with its unit: 24kPa,26kPa,25kPa");
    }
    values.push_back(read_one(argument, part));
  }
  return values;
}

std::string read_word(const Argument& argument, const std::string& word) {
  const auto& known = argument.choices;
  if (std::find(known.begin(), known.end(), word) != known.end()) return word;
  const std::string near = nearest(word, known);
  throw refusal(argument, "'" + printable(word) + "' is not known",
                near.empty() ? "choose " + join_words(known, " or ") : "nearest: " + near);
}

/// What stands on the line, or the usual; empty for neither.
std::string text_of(const Argument& argument, const Words& words) {
  const std::size_t count = words.count(argument.name);
  if (count > 1) throw refusal(argument, "given twice", "give it once");
  if (count == 1) return words.text(argument.name);
  if (argument.needed) throw refusal(argument, "it is missing", "it is " + described(argument));
  return argument.choices.empty() ? argument.usual : argument.choices.front();
}

Json quantity_json(const Quantity& value, const std::string& unit) {
  return {{"value", steady(in_unit(value, unit))}, {"unit", unit}, {"si", steady(value.si)}};
}

}  // namespace

Argument choice(std::string name, std::vector<std::string> choices, std::string help) {
  return {std::move(name), "1", 0, 0, std::move(help), "", false, false, std::move(choices)};
}

std::vector<Option> options_of(const std::vector<Argument>& arguments) {
  std::vector<Option> options;
  for (const Argument& argument : arguments) {
    options.push_back({.name = argument.name,
                       .help = described(argument),
                       .placeholder = shape(argument),
                       .choices = argument.choices});
  }
  return options;
}

Inputs::Input Inputs::read(const Argument& argument, const Words& words) {
  Input input{argument, words.count(argument.name) > 0, {}, {}};
  const std::string text = text_of(argument, words);
  if (!argument.choices.empty()) {
    input.word = read_word(argument, text);
  } else if (argument.list && input.given) {
    input.values = read_list(argument, text);
  } else if (input.given || !text.empty()) {
    input.values = {read_one(argument, text)};
  }
  return input;
}

Inputs::Inputs(const std::vector<Argument>& arguments, const Words& words) {
  for (const Argument& argument : arguments) {
    order_.push_back(argument.name);
    inputs_.emplace(argument.name, read(argument, words));
  }
}

bool Inputs::given(const std::string& name) const { return inputs_.at(name).given; }

const std::vector<Quantity>& Inputs::several(const std::string& name) const {
  const Input& input = inputs_.at(name);
  if (!input.values.empty()) return input.values;
  throw refusal(input.argument, "it is missing", "it is " + described(input.argument));
}

int Inputs::whole(const std::string& name) const {
  const double number = this->number(name);
  if (number == std::floor(number)) return static_cast<int>(number);
  throw refusal(inputs_.at(name).argument, shortest(number) + " is not a whole number",
                "it goes from " + limits(inputs_.at(name).argument));
}

const std::string& Inputs::word(const std::string& name) const { return inputs_.at(name).word; }

Json Inputs::json() const {
  Json out = Json::object();
  for (const std::string& name : order_) {
    const Input& input = inputs_.at(name);
    Json one;
    if (!input.argument.choices.empty()) one = {{"value", input.word}};
    if (input.values.size() == 1 && !input.argument.list) {
      one = quantity_json(input.values.front(), input.argument.unit);
    }
    if (input.argument.list) {
      for (const Quantity& value : input.values) {
        one.push_back(quantity_json(value, input.argument.unit));
      }
    }
    if (one.is_null()) continue;
    if (!input.given) one["usual"] = true;
    out[name] = one;
  }
  return out;
}

std::vector<std::string> Inputs::assumed() const {
  std::vector<std::string> out;
  for (const std::string& name : order_) {
    const Input& input = inputs_.at(name);
    const std::string value = input.argument.choices.empty() ? input.argument.usual : input.word;
    if (!input.given && !value.empty()) {
      out.push_back(fmt::format("--{} {} ({})", name, value, input.argument.help));
    }
  }
  return out;
}

}  // namespace tickover::cli
