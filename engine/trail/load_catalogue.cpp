#include <nlohmann/json.hpp>

#include "engine/foundation/json_document.hpp"
#include "engine/trail/sheet.hpp"

namespace tickover {

Catalogue load_catalogue(std::string_view text, const std::string& schema,
                         const std::string& place) {
  const nlohmann::json file = parse_json(text, place);
  JsonSchema(schema).validate(file, "sheet-file", place);
  require_printable(file, place);
  using Texts = std::map<std::string, std::string>;
  return {file["language"].get<std::string>(), file["texts"].get<Texts>(),
          file.value("answers", Texts())};
}

}  // namespace tickover
