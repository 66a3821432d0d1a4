#include "cli/constraints.hpp"

#include <algorithm>
#include <sstream>

#include "cli/session.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

void add_words(const std::string& text, std::vector<std::string>& words) {
  std::istringstream in(text);
  for (std::string word; in >> word;) words.push_back(word);
}

void check_known(const std::vector<std::string>& named, const std::vector<std::string>& known,
                 std::string_view kind) {
  for (const std::string& name : named) {
    if (!name.empty() && plan::any_named(known, {name})) continue;
    std::vector<std::string> nearby = known;
    for (const std::string& text : known) add_words(text, nearby);
    throw unknown_name(InputFault::usage, "", kind, name, nearby);
  }
}

}  // namespace

plan::Constraints checked(plan::Constraints constraints, const pack::Pack& pack) {
  std::vector<std::string> ids = pack::ids_of(pack.checks), tools, parts;
  for (const pack::Finding& finding : pack.findings) {
    if (finding.kind == pack::Kind::symptom) ids.push_back(finding.id);
  }
  for (const pack::Check& check : pack.checks) {
    tools.insert(tools.end(), check.tools.begin(), check.tools.end());
  }
  for (const pack::Repair& repair : pack.repairs) {
    ids.push_back(repair.id);
    parts.insert(parts.end(), repair.parts.begin(), repair.parts.end());
  }
  for (const std::string& id : constraints.without) {
    if (std::count(ids.begin(), ids.end(), id) > 0) continue;
    throw unknown_name(InputFault::usage, "", "check, question or repair", id, ids);
  }
  check_known(constraints.tools, tools, "tool");
  check_known(constraints.parts, parts, "part");
  return constraints;
}

std::vector<Option> constraint_options() {
  return {{.name = "without",
           .help = "a check, question or repair that cannot be done here; may be repeated",
           .kind = Kind::texts,
           .placeholder = "ID",
           .names = Names::observable},
          {.name = "no-tool",
           .help = "a tool that is not in the shop; may be repeated",
           .kind = Kind::texts,
           .placeholder = "TOOL"},
          {.name = "no-part",
           .help = "a part that cannot be had; may be repeated",
           .kind = Kind::texts,
           .placeholder = "PART"},
          {.name = "no-running",
           .help = "the engine cannot be run for a check: indoors, or it does not start",
           .kind = Kind::flag},
          {.name = "left",
           .help = "time left today: 40, in minutes, or with a unit: 1.5h",
           .placeholder = "TIME"}};
}

plan::Constraints constraints_from(const Words& words, const pack::Pack& pack) {
  plan::Constraints constraints;
  constraints.without = words.several("without");
  constraints.tools = words.several("no-tool");
  constraints.parts = words.several("no-part");
  constraints.running = !words.has("no-running");
  if (words.has("left")) constraints.minutes = parse_minutes("--left", words.text("left"));
  return checked(std::move(constraints), pack);
}

}  // namespace tickover::cli
