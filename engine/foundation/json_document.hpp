/// @file
/// JSON text from outside, read strictly, with errors that name file, line or JSON pointer.
#pragma once

#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

namespace tickover {

/// Parses `text` strictly: UTF-8, no comments, no member twice, no value nested deeper than 100.
/// `file` names the text in errors. Throws InputError (data): "causes.json:12: ...".
nlohmann::json parse_json(std::string_view text, const std::string& file);

/// Throws InputError (data) for the first text in `document` with a control character (a line feed
/// too) or a bidirectional override: knowledge goes to terminals and documents as it stands.
void require_printable(const nlohmann::json& document, const std::string& file);

/// `document` in one line, members in order of their names.
std::string json_text(const nlohmann::json& document);

/// A compiled JSON Schema (draft 7) document whose `$defs` can each be used as the root.
class JsonSchema {
 public:
  /// `text` is the schema document. A bad schema is a fault of the program: assert.
  explicit JsonSchema(std::string_view text);
  ~JsonSchema();

  /// Throws InputError (data) for the first place where `document` departs from
  /// `#/$defs/<definition>`: "causes.json#/causes/3/prior/value: should be a probability from 0 to
  /// 1".
  void validate(const nlohmann::json& document, const std::string& definition,
                const std::string& file) const;

 private:
  struct Compiled;
  std::unique_ptr<Compiled> compiled_;
};

/// "file#/pointer", the place of a value in a JSON document.
std::string json_place(const std::string& file, const std::string& pointer);

}  // namespace tickover
