#include "engine/trial/settings.hpp"

#include <nlohmann/json.hpp>
#include <numeric>

#include "engine/foundation/error.hpp"
#include "engine/foundation/json_document.hpp"

namespace tickover::trial {
namespace {

using nlohmann::json;

class Reader {
 public:
  Reader(const pack::Pack& pack, const std::string& file) : pack_(pack), file_(file) {}

  Settings settings(const json& root) const {
    Settings settings;
    settings.risk_share = root["risk-share"]["value"].get<double>();
    settings.told = root["told"]["shares"].get<std::vector<double>>();
    settings.repair_above = root["entropy"]["repair-above"].get<double>();
    settings.least_information = root["entropy"]["least-bits"].get<double>();
    check_told(settings.told);
    const json& order = root["order"];
    settings.order.title = order["title"].get<std::string>();
    settings.order.source = order["source"].get<std::string>();
    for (std::size_t i = 0; i < order["steps"].size(); ++i) {
      const json& step = order["steps"][i];
      const std::string pointer = "/order/steps/" + std::to_string(i);
      settings.order.steps.push_back(
          {index_of(step["repair"], pack_.repairs, "repair", pointer + "/repair"), {}});
      for (std::size_t c = 0; c < step["checks"].size(); ++c) {
        settings.order.steps.back().checks.push_back(index_of(
            step["checks"][c], pack_.checks, "check", pointer + "/checks/" + std::to_string(c)));
      }
    }
    return settings;
  }

 private:
  void check_told(const std::vector<double>& told) const {
    const double sum = std::accumulate(told.begin(), told.end(), 0.0);
    if (std::abs(sum - 1) < 1e-9) return;
    throw InputError(InputFault::data, json_place(file_, "/told/shares"),
                     "the shares do not sum to 1",
                     "they are of riders who tell of 1, 2, .. symptoms");
  }

  template <class Entry>
  std::size_t index_of(const json& id, const std::vector<Entry>& entries, std::string_view kind,
                       const std::string& pointer) const {
    const auto found = pack::find(entries, id.get<std::string>());
    if (found) return *found;
    throw unknown_name(InputFault::data, json_place(file_, pointer), kind, id.get<std::string>(),
                       pack::ids_of(entries));
  }

  const pack::Pack& pack_;
  const std::string& file_;
};

}  // namespace

Settings load_settings(const std::string& text, const std::string& schema, const std::string& file,
                       const pack::Pack& pack) {
  const json root = parse_json(text, file);
  JsonSchema(schema).validate(root, "settings", file);
  require_printable(root, file);
  return Reader(pack, file).settings(root);
}

}  // namespace tickover::trial
