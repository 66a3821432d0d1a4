#include "engine/foundation/json_document.hpp"

#include <algorithm>
#include <cassert>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "engine/foundation/error.hpp"
#include "engine/foundation/file_kind.hpp"

namespace tickover {
namespace {

using nlohmann::json;

constexpr int kDeepest = 100;
constexpr std::size_t kLongestName = 200;

/// Number of the line that holds byte `offset` (1-based, as parse errors count).
std::size_t line_of(std::string_view text, std::size_t offset) {
  const auto end = text.begin() + static_cast<std::ptrdiff_t>(std::min(offset, text.size()));
  return 1 + static_cast<std::size_t>(std::count(text.begin(), end, '\n'));
}

std::string at_line(const std::string& file, std::size_t line) {
  return file + ":" + std::to_string(line);
}

/// The reason of a parse error without the library's own preamble.
std::string reason_of(const json::exception& error) {
  std::string text = error.what();
  for (const std::string_view mark : {"] ", " - "}) {
    const std::size_t found = text.find(mark);
    if (found != std::string::npos) text.erase(0, found + mark.size());
  }
  return printable(text.substr(0, 160));
}

/// Behind the closing quote of the string that begins at `begin`, in text known to be JSON.
std::size_t end_of_string(std::string_view text, std::size_t begin) {
  std::size_t i = begin + 1;
  for (; text[i] != '"'; ++i) {
    if (text[i] == '\\') ++i;
  }
  return i + 1;
}

/// Where an object names a member for the second time. The parser's own events tell no place, so
/// this is a walk over the text, which must be known to be JSON.
void refuse_repetition(std::string_view text, const std::string& file) {
  std::vector<std::set<std::string>> open;  // the members so far of each open brace or bracket
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '{' || text[i] == '[') open.emplace_back();
    if (text[i] == '}' || text[i] == ']') open.pop_back();
    if (text[i] != '"') continue;
    const std::size_t begin = i, end = end_of_string(text, i);
    i = end - 1;
    const std::size_t next = text.find_first_not_of(" \t\r\n", end);
    if (next == std::string_view::npos || text[next] != ':') continue;  // a value, not a name
    std::string name(text.substr(begin + 1, end - begin - 2));
    if (name.find('\\') != std::string::npos) {
      name = json::parse(text.substr(begin, end - begin)).get<std::string>();
    }
    if (open.back().insert(name).second) continue;
    throw InputError(InputFault::data, at_line(file, line_of(text, begin)),
                     "member '" + printable(name) + "' is given twice");
  }
}

/// The part of the schema that speaks of the value at `pointer`; null when none does.
const json* subschema(const json& schema, const std::string& definition,
                      const json::json_pointer& pointer, const json& document) {
  const json& defs = schema.at("$defs");
  const auto follow = [&](const json* part) {
    while (part != nullptr && part->contains("$ref")) {
      const std::string name = part->at("$ref").get<std::string>().substr(8);  // "#/$defs/"
      part = &defs.at(name);
    }
    return part;
  };
  const json* part = follow(&defs.at(definition));
  json::json_pointer here, rest = pointer;
  std::vector<std::string> steps;
  for (; !rest.empty(); rest.pop_back()) steps.push_back(rest.back());
  for (auto step = steps.rbegin(); step != steps.rend() && part != nullptr; ++step) {
    const bool in_array = document.at(here).is_array();
    here.push_back(*step);
    if (in_array) {
      part = part->contains("items") ? &part->at("items") : nullptr;
    } else if (part->contains("properties") && part->at("properties").contains(*step)) {
      part = &part->at("properties").at(*step);
    } else {
      const bool open =
          part->contains("additionalProperties") && part->at("additionalProperties").is_object();
      part = open ? &part->at("additionalProperties") : nullptr;
    }
    if (part != nullptr && !part->contains("description")) part = follow(part);
  }
  return part;
}

std::string wanted_by(const json* part) {
  if (part != nullptr && part->contains("description")) {
    return "should be " + part->at("description").get<std::string>();
  }
  return "is not what the schema allows here";
}

/// valijson names a place as "<root>", "[causes]", "[3]"; JSON pointer is RFC 6901.
json::json_pointer pointer_of(const std::vector<std::string>& context) {
  json::json_pointer pointer;
  for (const std::string& step : context) {
    if (step.size() > 2 && step.front() == '[') pointer.push_back(step.substr(1, step.size() - 2));
  }
  return pointer;
}

/// The text between the last pair of single quotes of a library message, or "".
std::string quoted_name(const std::string& message) {
  const std::size_t end = message.rfind('\'');
  const std::size_t begin =
      end == std::string::npos || end == 0 ? end : message.rfind('\'', end - 1);
  if (begin == std::string::npos || end == begin) return {};
  return message.substr(begin + 1, end - begin - 1);
}

std::vector<std::string> keys_of(const json& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

/// The library's finding told in words of the field: which is missing, unknown, or wrong.
InputError explain(const json& schema, const std::string& definition, const json& document,
                   const valijson::ValidationResults::Error& error, const std::string& file) {
  const json::json_pointer pointer = pointer_of(error.context);
  const std::string place = json_place(file, pointer.to_string());
  const json* part = subschema(schema, definition, pointer, document);
  const std::string& said = error.description;
  if (said.rfind("Missing required property", 0) == 0) {
    return InputError(
        InputFault::data, place, "'" + quoted_name(said) + "' is missing",
        part != nullptr && part->contains("properties")
            ? "'" + quoted_name(said) + "' " +
                  wanted_by(subschema(schema, definition, pointer / quoted_name(said), document))
            : std::string());
  }
  if (said.rfind("Object contains a property", 0) == 0) {
    const std::vector<std::string> known = part != nullptr && part->contains("properties")
                                               ? keys_of(part->at("properties"))
                                               : std::vector<std::string>();
    return unknown_name(InputFault::data, place, "field", quoted_name(said), known);
  }
  if (said.rfind("Elements at indexes", 0) == 0) {
    return InputError(InputFault::data, place, "an entry stands here twice", wanted_by(part));
  }
  return InputError(InputFault::data, place, wanted_by(part));
}

/// Where a value lies, as links up to the document: built for every value, written out for few.
struct Path {
  const Path* up = nullptr;
  const std::string* member = nullptr;  ///< none in an array
  std::size_t index = 0;

  json::json_pointer pointer() const {
    if (up == nullptr) return json::json_pointer();
    return member != nullptr ? up->pointer() / *member : up->pointer() / index;
  }
};

/// `visit(text, path)` for every text in `value`, and for every member's name.
template <class Visit>
void each_text(const json& value, const Path& path, const Visit& visit) {
  if (value.is_object()) {
    for (auto member = value.begin(); member != value.end(); ++member) {
      const Path inner{&path, &member.key(), 0};
      visit(member.key(), inner);
      each_text(*member, inner, visit);
    }
  } else if (value.is_array()) {
    for (std::size_t i = 0; i < value.size(); ++i) each_text(value[i], {&path, nullptr, i}, visit);
  } else if (value.is_string()) {
    visit(value.get_ref<const std::string&>(), path);
  }
}

/// Texts with a pattern are short names. A long one is refused before the library's regular
/// expression sees it: that would call itself once a letter, until the stack is used up.
void refuse_long_names(const json& schema, const std::string& definition, const json& document,
                       const std::string& file) {
  each_text(document, {}, [&](const std::string& text, const Path& path) {
    if (text.size() <= kLongestName) return;
    const json* part = subschema(schema, definition, path.pointer(), document);
    if (part == nullptr || !part->contains("pattern")) return;
    throw InputError(InputFault::data, json_place(file, path.pointer().to_string()),
                     wanted_by(part));
  });
}

/// Printable, at a glance: nothing but ASCII without control characters.
bool plain(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return c >= ' ' && c < 0x7f; });
}

}  // namespace

json parse_json(std::string_view text, const std::string& file) {
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    throw InputError(InputFault::data, file, "there is nothing here", "a JSON document is wanted");
  }
  bool too_deep = false;
  const auto watch_depth = [&](int depth, json::parse_event_t, json&) {
    too_deep = too_deep || depth > kDeepest;
    return !too_deep;
  };
  try {
    json document = json::parse(text, watch_depth, true, false);
    if (too_deep) {
      throw InputError(InputFault::data, file, "values are nested deeper than 100 levels");
    }
    refuse_repetition(text, file);
    return document;
  } catch (const json::parse_error& error) {
    const std::string kind = file_kind(text);
    if (!kind.empty()) {
      throw InputError(InputFault::data, file, "this is not JSON: it seems to be " + kind);
    }
    throw InputError(InputFault::data, at_line(file, line_of(text, error.byte)),
                     "this is not JSON: " + reason_of(error));
  } catch (const json::exception& error) {
    throw InputError(InputFault::data, file, "this cannot be read: " + reason_of(error));
  }
}

void require_printable(const json& document, const std::string& file) {
  each_text(document, {}, [&](const std::string& text, const Path& path) {
    if (plain(text) || printable(text) == text) return;
    throw InputError(InputFault::data, json_place(file, printable(path.pointer().to_string())),
                     "this text holds a control character", "write it in one line, without");
  });
}

std::string json_text(const json& document) { return document.dump(); }

/// Each definition is compiled once, when it is first asked for; the validator keeps the patterns.
struct JsonSchema::Compiled {
  json document;
  valijson::Validator validator = {};
  std::map<std::string, std::unique_ptr<valijson::Schema>> definitions = {};

  const valijson::Schema& at(const std::string& definition) {
    std::unique_ptr<valijson::Schema>& compiled = definitions[definition];
    if (compiled) return *compiled;
    json root = document;
    root["$ref"] = "#/$defs/" + definition;
    compiled = std::make_unique<valijson::Schema>();
    valijson::SchemaParser().populateSchema(valijson::adapters::NlohmannJsonAdapter(root),
                                            *compiled);
    return *compiled;
  }
};

JsonSchema::JsonSchema(std::string_view text)
    : compiled_(std::make_unique<Compiled>(Compiled{json::parse(text)})) {
  assert(compiled_->document.contains("$defs"));
}

JsonSchema::~JsonSchema() = default;

void JsonSchema::validate(const json& document, const std::string& definition,
                          const std::string& file) const {
  refuse_long_names(compiled_->document, definition, document, file);
  valijson::ValidationResults results;
  const valijson::adapters::NlohmannJsonAdapter adapter(document);
  if (compiled_->validator.validate(compiled_->at(definition), adapter, &results)) return;
  valijson::ValidationResults::Error first;
  results.popError(first);
  throw explain(compiled_->document, definition, document, first, file);
}

std::string json_place(const std::string& file, const std::string& pointer) {
  return pointer.empty() ? file : file + "#" + pointer;
}

}  // namespace tickover
