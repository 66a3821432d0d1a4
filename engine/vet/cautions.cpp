// Cautions that the running engine, tools, open layers or words of the steps call for.

#include <algorithm>

#include "engine/foundation/text.hpp"
#include "engine/vet/vet.hpp"

namespace tickover::vet {
namespace {

/// Work that has cautions: a check, a repair, a layer, the road test.
struct Labour {
  std::string id, place;
  const pack::Cautions& given;
  bool running = false;
  std::vector<std::string> tools, steps;
  std::vector<std::size_t> open;
};

std::vector<Labour> labours(const pack::Pack& pack) {
  std::vector<Labour> all;
  for (std::size_t i = 0; i < pack.checks.size(); ++i) {
    const pack::Check& check = pack.checks[i];
    all.push_back({check.id, place_in("checks", i), check.cautions, check.running, check.tools,
                   check.how, check.open});
  }
  for (std::size_t i = 0; i < pack.repairs.size(); ++i) {
    const pack::Repair& repair = pack.repairs[i];
    all.push_back({repair.id,
                   place_in("repairs", i),
                   repair.cautions,
                   repair.running,
                   {},
                   repair.how,
                   repair.open});
  }
  for (std::size_t i = 0; i < pack.layers.size(); ++i) {
    const pack::Layer& layer = pack.layers[i];
    all.push_back({layer.id, place_in("layers", i), layer.cautions, false, {}, {}, {i}});
  }
  all.push_back({"verify",
                 "pack.json#/verify",
                 pack.frame.verify_cautions,
                 true,
                 {},
                 pack.frame.verify_how,
                 {}});
  return all;
}

/// The first of `phrases` that one of `texts` holds, in quotes; "" without one.
std::string said(const std::vector<std::string>& texts, const std::vector<std::string>& phrases) {
  for (const std::string& phrase : phrases) {
    for (const std::string& text : texts) {
      if (mentions(text, phrase)) return "'" + phrase + "'";
    }
  }
  return {};
}

/// Why the labour calls for the caution; "" when it does not.
std::string implied_by(const pack::Pack& pack, const Labour& labour, const pack::Implied& by) {
  if (by.running && labour.running) return "the engine runs";
  for (const std::size_t layer : by.open) {
    const bool open = std::find(labour.open.begin(), labour.open.end(), layer) != labour.open.end();
    if (open) return "'" + pack.layers[layer].id + "' is open";
  }
  const std::string tool = said(labour.tools, by.tools);
  if (!tool.empty()) return "its tools have " + tool;
  const std::string word = said(labour.steps, by.words);
  return word.empty() ? word : "its steps say " + word;
}

}  // namespace

std::vector<Remark> about_cautions(const pack::Pack& pack) {
  std::vector<Remark> remarks;
  for (const Labour& labour : labours(pack)) {
    for (std::size_t i = 0; i < pack.cautions.size(); ++i) {
      const pack::Caution& caution = pack.cautions[i];
      if (std::find(labour.given.begin(), labour.given.end(), i) != labour.given.end()) continue;
      const std::string why = implied_by(pack, labour, caution.implied_by);
      if (why.empty()) continue;
      remarks.push_back(
          {Severity::warning,
           "caution-missing",
           {labour.id, caution.id},
           labour.place + "/cautions",
           std::string(name_of(caution.grade)) + " '" + caution.id + "' is missing: " + why});
    }
  }
  return remarks;
}

}  // namespace tickover::vet
