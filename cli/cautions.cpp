#include "cli/cautions.hpp"

#include <nlohmann/json.hpp>

#include "cli/print.hpp"
#include "cli/words.hpp"

namespace tickover::cli {

std::string cautions_in_words(const pack::Pack& pack, const pack::Cautions& cautions) {
  if (cautions.empty()) return {};
  std::string out = "Take care\n";
  for (const std::size_t index : pack::by_grade(pack, cautions)) {
    const pack::Caution& caution = pack.cautions[index];
    out += labelled("  " + in_capitals(std::string(name_of(caution.grade))), caution.text, 11);
  }
  return out + labelled("  ", pack.cautions_defer_to, 2);
}

Json cautions_json(const pack::Pack& pack, const pack::Cautions& cautions) {
  Json list = Json::array();
  for (const std::size_t index : pack::by_grade(pack, cautions)) {
    const pack::Caution& caution = pack.cautions[index];
    list.push_back({{"id", caution.id},
                    {"grade", std::string(name_of(caution.grade))},
                    {"hazard", caution.hazard},
                    {"text", caution.text}});
  }
  return list;
}

}  // namespace tickover::cli
