#include <nlohmann/json.hpp>

#include "engine/foundation/json_document.hpp"
#include "engine/trail/sheet.hpp"

namespace tickover {

Catalogue load_catalogue(std::string_view text, const std::string& schema,
                         const std::string& place) {
  const nlohmann::json file = parse_json(text, place);
  JsonSchema(schema).validate(file, "sheet-file", place);
  require_printable(file, place);
  return {file["language"].get<std::string>(),
          file["texts"].get<std::map<std::string, std::string>>()};
}

}  // namespace tickover
