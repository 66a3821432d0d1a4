#include "engine/pack/load.hpp"

#include <nlohmann/json.hpp>
#include <set>

#include "engine/foundation/json_document.hpp"
#include "engine/foundation/text.hpp"
#include "engine/pack/reader.hpp"
#include "engine/pack/rules.hpp"

namespace tickover::pack {
namespace {

/// Without "none", how a pack says that no tool or part is needed.
std::vector<std::string> needed(std::vector<std::string> listed) {
  std::erase(listed, "none");
  return listed;
}

/// All documents of a pack, and the ids each list declares: references may point forward.
struct Documents {
  std::map<std::string, Document> by_name;
  std::map<std::string, std::vector<std::string>> ids;

  Node root(const std::string& name) const { return by_name.at(name + ".json").root(); }
};

/// The lists whose entries have ids, by the name of their file.
const std::vector<std::string>& lists() {
  static const std::vector<std::string> names = {"causes", "findings", "checks", "repairs",
                                                 "layers", "cautions", "risks",  "sources"};
  return names;
}

std::string file_of(const std::string& list) { return list == "layers" ? "access" : list; }

void collect_ids(Documents& documents) {
  for (const std::string& list : lists()) {
    std::set<std::string> seen;
    documents.ids[list];  // an empty list declares no id, and is known all the same
    for (const Node& entry : documents.root(file_of(list)).items(list)) {
      const std::string id = entry.text("id");
      if (!seen.insert(id).second) entry.at("id").fail("the id '" + id + "' is given twice");
      documents.ids[list].push_back(id);
    }
  }
}

/// What the schema and the rules for text want.
void validate(const PackFiles& files, const std::string& schema_text, const std::string& folder) {
  const JsonSchema schema(schema_text);
  for (const std::string& name : file_names()) {
    const std::string place = folder + "/" + name;
    const auto file = files.find(name);
    if (file == files.end())
      throw InputError(InputFault::missing, place, "the pack lacks this file");
    const nlohmann::json document = parse_json(file->second, place);
    schema.validate(document, name.substr(0, name.size() - 5) + "-file", place);
    require_printable(document, place);
  }
}

/// Of files that are well formed.
void read(const PackFiles& files, const std::string& folder, Documents& documents) {
  for (const std::string& name : file_names()) {
    documents.by_name.try_emplace(name, files.at(name), folder + "/" + name);
  }
  collect_ids(documents);
}

Scope scope_of(const std::string& name) {
  if (name == "engine") return Scope::engine;
  return name == "cylinder" ? Scope::cylinder : Scope::carburettor;
}

Mixture mixture_of(const std::string& name) {
  if (name == "lean") return Mixture::lean;
  return name == "rich" ? Mixture::rich : Mixture::normal;
}

Kind kind_of(const std::string& name) {
  if (name == "symptom") return Kind::symptom;
  if (name == "response") return Kind::response;
  return name == "inspection" ? Kind::inspection : Kind::reading;
}

Grade grade_of(const std::string& name) {
  if (name == "danger") return Grade::danger;
  if (name == "warning") return Grade::warning;
  return name == "caution" ? Grade::caution : Grade::notice;
}

Work read_work(const Node& node) { return {node.number("once"), node.number("each")}; }

/// Turns validated documents into the lists of a Pack.
class Builder {
 public:
  explicit Builder(const Documents& documents) : documents_(documents) {}

  Pack build() const {
    for (const std::string file : {"checks", "repairs", "access"}) {
      check_basis(documents_.root(file).at("basis-of-minutes"), ids("sources"));
    }
    Pack pack = head();
    each("causes", [&](const Node& node) { pack.causes.push_back(cause(node, pack.disturbed)); });
    each("findings", [&](const Node& node) { pack.findings.push_back(finding(node)); });
    each("checks", [&](const Node& node) { pack.checks.push_back(check(node)); });
    each("repairs", [&](const Node& node) { pack.repairs.push_back(repair(node)); });
    each("layers", [&](const Node& node) { pack.layers.push_back(layer(node)); });
    each("cautions", [&](const Node& node) { pack.cautions.push_back(caution(node)); });
    each("risks", [&](const Node& node) { pack.risks.push_back(risk(node)); });
    each("words", [&](const Node& node) { pack.words.push_back(words(node)); });
    each("sources", [&](const Node& node) { pack.sources.push_back(source(node)); });
    return pack;
  }

 private:
  template <class Make>
  void each(const std::string& list, const Make& make) const {
    for (const Node& node : documents_.root(file_of(list)).items(list)) make(node);
  }

  const std::vector<std::string>& ids(const std::string& list) const {
    return documents_.ids.at(list);
  }
  Number number(const Node& node) const { return read_number(node, ids("sources")); }
  std::vector<Number> numbers(const Node& node, const std::string& key) const {
    return read_numbers(node, key, ids("sources"));
  }

  Cautions cautions(const Node& node) const {
    return resolve_all(node, "cautions", "caution", ids("cautions"));
  }

  Pack head() const {
    const Node node = documents_.root("pack");
    const Node verify = node.at("verify"), hand_on = node.at("hand-on");
    Pack pack;
    pack.id = node.text("id");
    pack.version = node.text("version");
    pack.title = node.text("title");
    pack.defers_to = node.text("defers-to");
    pack.frame = {node.number("ask-minutes"),
                  verify.number("minutes"),
                  verify.texts("how"),
                  cautions(verify),
                  hand_on.number("minutes"),
                  hand_on.text("reason"),
                  {}};
    pack.cautions_defer_to = documents_.root("cautions").text("defers-to");
    pack.disturbed = number(node.at("disturbed"));
    if (node.has("fades")) pack.fades = number(node.at("fades"));
    if (node.has("again")) pack.again = number(node.at("again"));
    if (node.has("shown-apart")) pack.shown_apart = number(node.at("shown-apart"));
    if (node.has("one-of")) {
      for (const Node& list : node.items("one-of")) {
        std::vector<std::string>& features = pack.one_of.emplace_back();
        for (const Node& feature : list.items()) features.push_back(feature.string());
      }
    }
    if (verify.has("misses")) pack.frame.verify_misses = number(verify.at("misses"));
    return pack;
  }

  Cause cause(const Node& node, const Number& disturbed) const {
    Cause cause;
    cause.id = node.text("id");
    cause.name = node.text("name");
    cause.scope = scope_of(node.text("scope"));
    cause.mixture = mixture_of(node.text("mixture"));
    cause.explain = node.text("explain");
    cause.prior = number(node.at("prior"));
    cause.disturbed = node.has("disturbed") ? number(node.at("disturbed")) : disturbed;
    cause.needs = node.texts("needs");
    return cause;
  }

  static Direction direction_of(const std::string& name) {
    if (name == "thinned") return Direction::thinned;
    return name == "high" ? Direction::high : Direction::low;
  }

  Link link(const Node& node) const {
    Link link;
    link.cause = resolve(node.at("cause"), "cause", ids("causes"));
    link.strength = numbers(node, "strength");
    link.reason = node.text("reason");
    link.direction = direction_of(node.text("direction"));
    link.shift = node.has("shift") ? node.number("shift") : 0;
    return link;
  }

  Finding finding(const Node& node) const {
    Finding finding;
    finding.id = node.text("id");
    finding.name = node.text("name");
    finding.kind = kind_of(node.text("kind"));
    check_members(node, finding.kind);
    finding.scope = scope_of(node.text("scope"));
    finding.ask = node.text("ask");
    finding.reason = node.text("reason");
    if (node.has("when")) finding.when = conditions(node.at("when"));
    finding.needs = node.texts("needs");
    finding.levels =
        node.has("levels") ? node.texts("levels") : std::vector<std::string>{"no", "yes"};
    finding.leak = numbers(node, "leak");
    for (const Node& item : node.items("links")) finding.links.push_back(link(item));
    finding.spoiled_by = resolve_all(node, "spoiled-by", "cause", ids("causes"));
    finding.cleared_by = resolve_all(node, "cleared-by", "repair", ids("repairs"));
    finding.left_by_running = node.has("left-by-running") && node.flag("left-by-running");
    finding.against_siblings = node.has("against-siblings") && node.flag("against-siblings");
    if (finding.kind == Kind::inspection) read_inspection(node, finding);
    if (finding.kind == Kind::reading) read_reading(node, finding);
    return finding;
  }

  static Conditions conditions(const Node& node) {
    Conditions when;
    if (node.has("throttle")) when.throttle = node.text("throttle");
    if (node.has("engine")) when.engine = node.text("engine");
    if (node.has("load")) when.load = node.text("load");
    return when;
  }

  void read_inspection(const Node& node, Finding& finding) const {
    finding.cause = resolve(node.at("cause"), "cause", ids("causes"));
    for (const Node& item : node.items("outcomes")) {
      finding.outcomes.push_back({item.text("id"), item.text("name"), number(item.at("present")),
                                  number(item.at("absent"))});
    }
  }

  void read_reading(const Node& node, Finding& finding) const {
    finding.unit = node.text("unit");
    finding.nominal = node.text("nominal");
    finding.instrument = node.number("instrument");
    const std::vector<Node> plausible = node.at("plausible").items();
    finding.plausible_low = plausible[0].number();
    finding.plausible_high = plausible[1].number();
    finding.slip = number(node.at("slip"));
    if (node.has("sibling-tolerance")) finding.sibling_tolerance = node.number("sibling-tolerance");
    for (const Node& item : node.items("gases")) finding.gases.push_back(gas(item));
    for (const std::string list : {"set-by", "instead-of"}) {
      const bool repairs = list == "set-by";
      resolve_all(node, list, repairs ? "repair" : "finding",
                  ids(repairs ? "repairs" : "findings"));
    }
    finding.set_by = node.texts("set-by");
    finding.instead_of = node.texts("instead-of");
  }

  static Gas gas(const Node& node) {
    const std::vector<Node> plausible = node.at("plausible").items();
    Gas gas{node.text("name"),     node.text("unit"),    node.number("instrument"), 0,
            plausible[0].number(), plausible[1].number()};
    if (node.has("relative")) gas.relative = node.number("relative");
    if (node.has("needed")) gas.needed = node.flag("needed");
    return gas;
  }

  Check check(const Node& node) const {
    Check check;
    check.id = node.text("id");
    check.name = node.text("name");
    check.finding = resolve(node.at("finding"), "finding", ids("findings"));
    check.purpose = node.text("purpose");
    check.good = node.text("good");
    check.how = node.texts("how");
    check.mistakes = node.texts("mistakes");
    check.tools = needed(node.texts("tools"));
    check.cautions = cautions(node);
    check.needs = node.texts("needs");
    check.minutes = read_work(node.at("minutes"));
    check.open = resolve_all(node, "open", "access layer", ids("layers"));
    check.shut = resolve_all(node, "shut", "access layer", ids("layers"));
    check.running = node.flag("running");
    check.together = node.flag("together");
    return check;
  }

  Repair repair(const Node& node) const {
    Repair repair;
    repair.id = node.text("id");
    repair.name = node.text("name");
    for (const Node& item : node.items("removes")) {
      repair.removes.push_back(
          {resolve(item.at("cause"), "cause", ids("causes")), number(item.at("success"))});
    }
    repair.how = node.texts("how");
    repair.parts = needed(node.texts("parts"));
    repair.cautions = cautions(node);
    repair.needs = node.texts("needs");
    repair.minutes = read_work(node.at("minutes"));
    if (node.has("siblings")) repair.siblings = node.text("siblings");
    if (node.has("parts-minutes")) repair.parts_minutes = node.number("parts-minutes");
    repair.open = resolve_all(node, "open", "access layer", ids("layers"));
    repair.running = node.has("running") && node.flag("running");
    return repair;
  }

  Layer layer(const Node& node) const {
    Layer layer;
    layer.id = node.text("id");
    layer.name = node.text("name");
    layer.behind = resolve_all(node, "behind", "access layer", ids("layers"));
    layer.open_minutes = node.number("open-minutes");
    layer.close_minutes = node.number("close-minutes");
    layer.runs_open = node.flag("runs-open");
    layer.cautions = cautions(node);
    layer.first_start = resolve_all(node, "first-start", "caution", ids("cautions"));
    layer.needs = node.texts("needs");
    return layer;
  }

  Caution caution(const Node& node) const {
    Caution caution{
        node.text("id"), grade_of(node.text("grade")), node.text("hazard"), node.text("text"), {}};
    if (!node.has("implied-by")) return caution;
    const Node by = node.at("implied-by");
    caution.implied_by = {by.has("running") && by.flag("running"), by.texts("tools"),
                          by.texts("words"),
                          resolve_all(by, "open", "access layer", ids("layers"))};
    return caution;
  }

  Risk risk(const Node& node) const {
    Risk risk{node.text("id"), node.text("name"), node.text("ask"), {}, {}, {}};
    for (const Node& item : node.items("raises")) {
      risk.raises.push_back({resolve(item.at("cause"), "cause", ids("causes")),
                             number(item.at("odds")), item.text("reason")});
    }
    if (!node.has("left-by")) return risk;
    const Node by = node.at("left-by");
    risk.left_by_layers = resolve_all(by, "layers", "access layer", ids("layers"));
    risk.left_by_repairs = resolve_all(by, "repairs", "repair", ids("repairs"));
    return risk;
  }

  Words words(const Node& node) const {
    return {node.text("say"), resolve_all(node, "means", "finding", ids("findings"))};
  }

  static Source source(const Node& node) {
    return {node.text("id"), node.text("title"), node.text("section"), node.text("note")};
  }

  const Documents& documents_;
};

/// "" when a file is missing.
std::string hash_of(const PackFiles& files) {
  std::string all;
  for (const std::string& name : file_names()) {
    const auto file = files.find(name);
    if (file == files.end()) return {};
    all += name + '\0' + file->second + '\0';
  }
  return sha256(all);
}

}  // namespace

const std::vector<std::string>& file_names() {
  static const std::vector<std::string> names = {
      "access.json", "causes.json",  "cautions.json", "checks.json",  "findings.json",
      "pack.json",   "repairs.json", "risks.json",    "sources.json", "words.json"};
  return names;
}

Pack load(const PackFiles& files, const std::string& schema, const std::string& folder,
          std::string_view known) {
  const std::string hash = hash_of(files);
  if (hash.empty() || hash != known) validate(files, schema, folder);
  Documents documents;
  read(files, folder, documents);
  Pack pack = Builder(documents).build();
  check_rules(pack, folder);
  pack.hash = hash;
  return pack;
}

}  // namespace tickover::pack
