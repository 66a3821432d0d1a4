#include "engine/vet/exceptions.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <tuple>

#include "engine/foundation/error.hpp"
#include "engine/foundation/json_document.hpp"
#include "engine/pack/reader.hpp"

namespace tickover::vet {
namespace {

/// Errors cannot be excepted, nor can an exception.
const std::vector<std::string>& rules_with_exceptions() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all = rules();
    for (const std::string never : {"data", "sheet", "exception-not-used"}) {
      all.erase(std::find(all.begin(), all.end(), never));
    }
    return all;
  }();
  return names;
}

bool before(const Judged& a, const Judged& b) {
  const auto key = [](const Judged& one) {
    return std::tie(one.remark.severity, one.remark.rule, one.remark.place, one.remark.about,
                    one.remark.text);
  };
  return key(a) < key(b);
}

}  // namespace

std::vector<Exception> load_exceptions(const std::string& text, const std::string& schema,
                                       const std::string& file) {
  JsonSchema(schema).validate(parse_json(text, file), "exceptions-file", file);
  const pack::Document document(text, file);
  std::vector<Exception> exceptions;
  for (const pack::Node& node : document.root().items("exceptions")) {
    pack::resolve(node.at("rule"), "rule", rules_with_exceptions());
    const std::size_t index = exceptions.size();
    exceptions.push_back({node.text("rule"), node.texts("about"), node.text("reason"),
                          place_in("exceptions", index)});
  }
  return exceptions;
}

std::vector<Judged> judged(const std::vector<Remark>& remarks,
                           const std::vector<Exception>& exceptions) {
  std::vector<bool> used(exceptions.size());
  std::vector<Judged> all;
  for (const Remark& remark : remarks) {
    all.push_back({remark, {}});
    for (std::size_t i = 0; i < exceptions.size(); ++i) {
      if (exceptions[i].rule != remark.rule || exceptions[i].about != remark.about) continue;
      used[i] = true;
      all.back().reason = exceptions[i].reason;
    }
  }
  for (std::size_t i = 0; i < exceptions.size(); ++i) {
    if (used[i]) continue;
    all.push_back(
        {{Severity::warning, "exception-not-used", exceptions[i].about, exceptions[i].place,
          "the rule '" + exceptions[i].rule + "' has nothing against it any more"},
         {}});
  }
  std::stable_sort(all.begin(), all.end(), before);
  return all;
}

bool clean(const std::vector<Judged>& all) {
  return std::all_of(all.begin(), all.end(), [](const Judged& one) {
    return one.remark.severity == Severity::note || !one.reason.empty();
  });
}

}  // namespace tickover::vet
