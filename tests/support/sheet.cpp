#include "tests/support/sheet.hpp"

#include "engine/trail/sheet.hpp"
#include "tests/support/knowledge.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::test {

std::string sheet_as_markdown(const Diagnosis& job, const Journal& journal, const Trail& trail,
                              const std::string& language) {
  const std::string file = "knowledge/sheet/" + language + ".json";
  const Catalogue words = load_catalogue(source_text(file), schema_text("sheet"), file);
  return sheet_markdown({job, journal, trail, words, ""});
}

}  // namespace tickover::test
