#include "tests/support/mutations.hpp"

#include <functional>
#include <nlohmann/json.hpp>
#include <set>

#include "tests/support/json_text.hpp"

namespace tickover::test {
namespace {

using nlohmann::json;
using Pointer = json::json_pointer;

/// A value of a document: `rule` is the part of the schema that speaks of it, references followed.
struct Place {
  Pointer pointer = Pointer();  // its constructor is explicit
  const json* rule = nullptr;
  bool is_member = false, required = false;
};

const json& followed(const json& schema, const json& part) {
  const json* rule = &part;
  while (rule->contains("$ref")) {
    rule = &schema.at(Pointer(rule->at("$ref").get<std::string>().substr(1)));
  }
  return *rule;
}

bool lists(const json& rule, const std::string& list, const std::string& name) {
  if (!rule.contains(list)) return false;
  for (const json& one : rule.at(list)) {
    if (one == name) return true;
  }
  return false;
}

/// The rule of a member by its name, or of any other name where the schema leaves names open.
const json* rule_of_member(const json& rule, const std::string& key) {
  if (rule.contains("properties") && rule.at("properties").contains(key)) {
    return &rule.at("properties").at(key);
  }
  const bool open =
      rule.contains("additionalProperties") && rule.at("additionalProperties").is_object();
  return open ? &rule.at("additionalProperties") : nullptr;
}

void collect(const json& schema, const json& part, const json& value, Place here,
             std::vector<Place>& out) {
  const json& rule = followed(schema, part);
  here.rule = &rule;
  out.push_back(here);
  if (value.is_object()) {
    for (const auto& [key, inner] : value.items()) {
      const json* member = rule_of_member(rule, key);
      if (member == nullptr) continue;
      collect(schema, *member, inner,
              {here.pointer / key, nullptr, true, lists(rule, "required", key)}, out);
    }
  }
  if (!value.is_array() || !rule.contains("items")) return;
  for (std::size_t i = 0; i < value.size(); ++i) {
    collect(schema, rule.at("items"), value[i], {here.pointer / i, nullptr, false, false}, out);
  }
}

std::vector<Place> places_of(const json& schema, const std::string& definition,
                             const json& document) {
  std::vector<Place> places;
  collect(schema, schema.at("$defs").at(definition), document, Place{}, places);
  return places;
}

std::string type_of(const json& rule) {
  if (rule.contains("type")) return rule.at("type");
  if (rule.contains("enum")) return "string";
  return rule.contains("const") ? "const" : "any";
}

bool fits_type(const json& value, const std::string& type) {
  if (type == "string") return value.is_string();
  if (type == "boolean") return value.is_boolean();
  if (type == "number") return value.is_number();
  if (type == "integer") return value.is_number_integer();
  if (type == "array") return value.is_array();
  if (type == "object") return value.is_object();
  return type == "any";
}

/// The document as text, the member at `twice` written twice.
std::string text_with_twice(const json& value, const Pointer& here, const Pointer& twice) {
  if (!value.is_structured()) return text_of(value);
  std::string text;
  for (const auto& [key, inner] : value.items()) {
    const Pointer there = here / key;
    const std::string name = value.is_object() ? text_of(json(key)) + ":" : "";
    const std::string one = name + text_with_twice(inner, there, twice);
    text += (text.empty() ? "" : ",") + one;
    if (there == twice) text += "," + one;
  }
  return value.is_object() ? "{" + text + "}" : "[" + text + "]";
}

class Mutator {
 public:
  explicit Mutator(const json& document) : document_(document) {}

  void all(const Place& place) {
    if (place.is_member) {
      leave_out(place);
      add(place, "is given twice", text_with_twice(document_, Pointer(), place.pointer), true);
    }
    wrong_types(place);
    wrong_numbers(place);
    wrong_texts(place);
    wrong_lists(place);
  }
  std::vector<Mutation> take() { return std::move(found_); }

 private:
  void add(const Place& place, const std::string& how, const std::string& text, bool must_fail) {
    found_.push_back({place.pointer.to_string() + " " + how, text, must_fail});
  }
  void put(const Place& place, const json& value, bool must_fail) {
    json changed = document_;
    changed[place.pointer] = value;
    add(place, "is " + text_of(value).substr(0, 60), text_of(changed), must_fail);
  }

  void leave_out(const Place& place) {
    json changed = document_;
    changed.at(place.pointer.parent_pointer()).erase(place.pointer.back());
    add(place, "is missing", text_of(changed), place.required);
  }

  void wrong_types(const Place& place) {
    const std::string type = type_of(*place.rule);
    for (const json& value :
         {json(), json(true), json(7.5), json("text"), json::array(), json::object()}) {
      if (!fits_type(value, type)) put(place, value, true);
    }
  }

  void wrong_numbers(const Place& place) {
    const std::string type = type_of(*place.rule);
    if (type != "number" && type != "integer") return;
    const json& rule = *place.rule;
    const bool has_low = rule.contains("minimum") || rule.contains("exclusiveMinimum");
    const bool has_high = rule.contains("maximum");
    if (rule.contains("minimum")) put(place, rule.at("minimum").get<double>() - 1e-6, true);
    if (rule.contains("exclusiveMinimum")) put(place, rule.at("exclusiveMinimum"), true);
    if (has_high) put(place, rule.at("maximum").get<double>() + 1e-6, true);
    put(place, -1e308, has_low || type == "integer");
    put(place, 1e308, has_high || type == "integer");
    put(place, 5e-324, type == "integer");
    put(place, std::numeric_limits<std::int64_t>::min(), has_low);
    put(place, std::numeric_limits<std::uint64_t>::max(), has_high);
  }

  void wrong_texts(const Place& place) {
    if (type_of(*place.rule) != "string") return;
    const json& rule = *place.rule;
    const bool closed = rule.contains("enum") || rule.contains("pattern");
    const bool has_end = closed || rule.contains("maxLength");
    put(place, "", closed || rule.contains("minLength"));
    put(place, "\x1b[2J\xE2\x80\xAE", closed);
    put(place, "a-b-", closed);
    if (rule.contains("maxLength")) {
      put(place, std::string(rule.at("maxLength").get<std::size_t>() + 1, 'a'), true);
    }
    put(place, std::string(300000, 'a'), has_end);
  }

  void wrong_lists(const Place& place) {
    if (!document_.at(place.pointer).is_array()) return;
    const json& rule = *place.rule;
    put(place, json::array(), rule.contains("minItems"));
    json longer = document_.at(place.pointer);
    if (longer.empty()) return;
    while (longer.size() < 100) longer.push_back(longer.front());
    put(place, longer, rule.contains("maxItems") || rule.contains("uniqueItems"));
  }

  const json& document_;
  std::vector<Mutation> found_;
};

}  // namespace

std::vector<Mutation> mutations(const json& schema, const std::string& definition,
                                const json& document) {
  Mutator mutator(document);
  for (const Place& place : places_of(schema, definition, document)) mutator.all(place);
  return mutator.take();
}

std::vector<std::string> members_not_shown(const json& schema, const std::string& definition,
                                           const json& document) {
  std::set<std::string> shown, known;
  for (const Place& place : places_of(schema, definition, document)) {
    const json& value = document.at(place.pointer);
    if (!value.is_object() || !place.rule->contains("properties")) continue;
    // the same rule stands for many objects; one of them is enough to show a member
    const std::string rule = text_of(place.rule->at("properties"));
    for (const auto& [key, part] : place.rule->at("properties").items()) known.insert(rule + key);
    for (const auto& [key, inner] : value.items()) shown.insert(rule + key);
  }
  std::vector<std::string> missing;
  for (const std::string& member : known) {
    if (shown.count(member) == 0) missing.push_back(member);
  }
  return missing;
}

}  // namespace tickover::test
