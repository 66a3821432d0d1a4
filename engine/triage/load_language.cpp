#include <algorithm>
#include <nlohmann/json.hpp>

#include "engine/foundation/json_document.hpp"
#include "engine/pack/reader.hpp"
#include "engine/triage/language.hpp"

namespace tickover::triage {
namespace {

using pack::Node;

std::set<std::string> words(const Node& root, const std::string& list) {
  const std::vector<std::string> all = root.texts(list);
  return {all.begin(), all.end()};
}

std::vector<std::vector<std::string>> phrases(const Language& language, const Node& list) {
  std::vector<std::vector<std::string>> out;
  for (const Node& item : list.items()) {
    out.push_back(language.stems_of(item.string()));
    if (out.back().empty()) item.fail("'" + item.string() + "' holds nothing but fillers");
  }
  return out;
}

void read_conditions(const Node& root, Language& language) {
  for (const Node& node : root.items("conditions")) {
    const std::string condition = node.text("condition");
    ConditionQuestion question{condition, node.text("ask"), {}};
    for (const Node& value : node.items("values")) {
      ConditionWords told{condition, value.text("value"), phrases(language, value.at("say"))};
      question.names[told.value] = value.text("name");
      language.conditions.push_back(std::move(told));
    }
    language.questions.push_back(std::move(question));
  }
}

}  // namespace

Language load_language(const std::string& text, const std::string& schema,
                       const std::string& file) {
  JsonSchema(schema).validate(parse_json(text, file), "language-file", file);
  const pack::Document document(text, file);
  const Node root = document.root();
  Language language;
  language.endings = root.texts("endings");
  std::stable_sort(language.endings.begin(), language.endings.end(),
                   [](const std::string& a, const std::string& b) { return a.size() > b.size(); });
  language.whole = words(root, "whole");
  language.fillers = words(root, "fillers");
  language.breaks = words(root, "breaks");
  language.joins = words(root, "joins");
  language.subjects = words(root, "subjects");
  std::vector<std::vector<std::vector<std::string>>> groups;
  for (const std::string denial : {"not", "gone"}) {
    groups.push_back(phrases(language, root.at(denial)));
    groups.back().insert(groups.back().begin(), {denial});
  }
  for (const Node& node : root.items("same")) groups.push_back(phrases(language, node));
  language.same = std::move(groups);
  language.slack = static_cast<std::size_t>(root.number("slack"));
  language.reach = static_cast<std::size_t>(root.number("reach"));
  for (const auto& phrase : phrases(language, root.at("general"))) {
    language.general.insert(phrase.begin(), phrase.end());
  }
  read_conditions(root, language);
  return language;
}

}  // namespace tickover::triage
