#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/features.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/session.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

struct Item {
  std::string id, name;
};

template <class Entry>
void add(std::vector<Item>& items, const std::vector<Entry>& entries) {
  for (const Entry& entry : entries) items.push_back({entry.id, entry.name});
}

/// Symptoms carry what riders say of them, so that a rider's word finds them.
std::vector<Item> symptoms(const pack::Pack& pack, const std::string& word) {
  std::vector<Item> items;
  for (std::size_t i = 0; i < pack.findings.size(); ++i) {
    const pack::Finding& finding = pack.findings[i];
    if (finding.kind != pack::Kind::symptom) continue;
    std::string text = finding.name;
    for (const pack::Words& words : pack.words) {
      const bool means = std::find(words.means.begin(), words.means.end(), i) != words.means.end();
      if (means && !word.empty() && says(words.say, word)) text += " (\"" + words.say + "\")";
    }
    items.push_back({finding.id, text});
  }
  return items;
}

std::vector<Item> machines(const World& world) {
  std::vector<Item> items;
  for (const std::string& file : world.store.names(world.knowledge + "/machines", ".json")) {
    const Machine machine = load_machine_sheet(world, file.substr(0, file.size() - 5));
    items.push_back({machine.id, machine.name + (machine.invented ? " (invented)" : "")});
  }
  return items;
}

/// Each with what asks for it, since "points" alone does not tell what is meant: the first few by
/// name; all where a word is looked for.
std::vector<Item> features(const pack::Pack& pack, const std::string& word) {
  constexpr std::size_t kNamed = 3;
  std::vector<Item> items;
  for (auto& [feature, names] : features_asked_for(pack)) {
    const std::size_t told = word.empty() ? std::min(names.size(), kNamed) : names.size();
    std::string text = "asked for by";
    for (std::size_t i = 0; i < told; ++i) text += (i == 0 ? ": " : "; ") + names[i];
    if (told < names.size()) text += fmt::format("; {} more", names.size() - told);
    items.push_back({feature, text});
  }
  return items;
}

std::vector<Item> items_of(const World& world, const std::string& kind, const std::string& word) {
  if (kind == "machines") return machines(world);
  const pack::Pack pack = load_pack(world);
  std::vector<Item> items;
  if (kind == "symptoms") return symptoms(pack, word);
  if (kind == "features") return features(pack, word);
  if (kind == "checks") add(items, pack.checks);
  if (kind == "causes") add(items, pack.causes);
  if (kind == "repairs") add(items, pack.repairs);
  if (kind == "layers") add(items, pack.layers);
  if (kind == "cautions") {
    for (const pack::Caution& caution : pack.cautions) {
      items.push_back({caution.id, std::string(name_of(caution.grade)) + ": " + caution.text});
    }
  }
  if (kind == "risks") {
    for (const pack::Risk& risk : pack.risks) items.push_back({risk.id, risk.ask});
  }
  return items;
}

const std::vector<std::string>& kinds() {
  static const std::vector<std::string> names = {"symptoms", "checks",   "causes",
                                                 "repairs",  "layers",   "cautions",
                                                 "risks",    "features", "machines"};
  return names;
}

int run_list(World& world, const Words& words) {
  const std::string kind = words.required("kind"), word = words.text("word");
  if (std::find(kinds().begin(), kinds().end(), kind) == kinds().end()) {
    throw unknown_name(InputFault::usage, "", "kind of list", kind, kinds());
  }
  std::vector<Item> items = items_of(world, kind, word);
  std::erase_if(items, [&](const Item& item) {
    return !word.empty() && item.id.find(word) == std::string::npos && !says(item.name, word);
  });
  if (words.has("json")) {
    Json out = {{"report", "list"}, {"format", 1}, {"kind", kind}, {"entries", Json::array()}};
    for (const Item& item : items) out["entries"].push_back({{"id", item.id}, {"name", item.name}});
    print_json(world.out, out);
    return kDone;
  }
  std::size_t width = 0;
  for (const Item& item : items) width = std::max(width, item.id.size());
  for (const Item& item : items) world.out << labelled(item.id, item.name, width + 2);
  if (items.empty()) world.out << "Nothing there matches '" << printable(word) << "'.\n";
  return kDone;
}

}  // namespace

Command list_command() {
  return {"list",
          "Lists symptoms, checks, causes, repairs, layers, cautions, risks, features or machines.",
          {{.name = "kind", .help = "what to list", .choices = kinds()},
           {.name = "word", .help = "a word that the entries hold", .needed = false}},
          "tickover list symptoms hang",
          {},
          run_list};
}

}  // namespace tickover::cli
