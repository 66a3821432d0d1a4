#include "cli/sitting/named.hpp"

#include <algorithm>

#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kMostHinted = 5;

struct Meant {
  std::string id, name;
};

template <class Entry>
void add(std::vector<Meant>& items, const Model& model, const std::vector<Entry>& entries) {
  for (const Entry& entry : entries) {
    if (model.applies(entry.needs)) items.push_back({entry.id, entry.name});
  }
}

std::vector<std::string> ids_of(const std::vector<Meant>& items) {
  std::vector<std::string> ids;
  for (const Meant& item : items) ids.push_back(item.id);
  return ids;
}

/// The one that is named just so; else the one whose name or id holds all the words.
std::string named(std::string_view kind, const std::vector<Meant>& items,
                  const std::string& words) {
  std::vector<Meant> meant;
  for (const Meant& item : items) {
    std::string parted = item.id;
    std::replace(parted.begin(), parted.end(), '-', ' ');
    if (item.id == words || parted == words || lower_case(item.name) == lower_case(words)) {
      return item.id;
    }
    if (says(item.name, words) || says(parted, words)) meant.push_back(item);
  }
  if (meant.empty()) throw unknown_name(InputFault::usage, "", kind, words, ids_of(items));
  if (meant.size() == 1) return meant.front().id;
  std::vector<std::string> ids = ids_of(meant);
  const bool more = ids.size() > kMostHinted;
  ids.resize(std::min(ids.size(), kMostHinted));
  throw InputError(InputFault::usage, "", "'" + words + "' may mean several",
                   join_words(ids, " or ") + (more ? ", or others" : ""));
}

}  // namespace

std::string work_named(const Model& model, const std::string& words) {
  // that it does not apply here is told by whoever does it
  if (pack::find(model.pack.checks, words) || pack::find(model.pack.repairs, words)) return words;
  std::vector<Meant> items;
  for (const pack::Check& check : model.pack.checks) {
    const pack::Finding& made = model.pack.findings[check.finding];
    if (!model.applies(check.needs) || !model.applies(made.needs)) continue;
    if (made.id == words && made.kind != pack::Kind::symptom) return check.id;
    items.push_back({check.id, check.name});
  }
  if (pack::find(model.pack.findings, words)) return words;
  for (const pack::Finding& finding : model.pack.findings) {
    const bool symptom = finding.kind == pack::Kind::symptom && model.applies(finding.needs);
    if (symptom) items.push_back({finding.id, finding.name});
  }
  add(items, model, model.pack.repairs);
  return named("check, symptom or repair", items, words);
}

std::string layer_named(const Model& model, const std::string& words) {
  std::vector<Meant> items;
  add(items, model, model.pack.layers);
  return named("access layer", items, words);
}

std::string cause_named(const Model& model, const std::string& words) {
  if (words.find('@') != std::string::npos) return words;
  std::vector<Meant> items;
  add(items, model, model.pack.causes);
  return named("cause", items, words);
}

}  // namespace tickover::cli
