#include "engine/trail/sheet_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover {
namespace {

using Texts = std::vector<std::string>;

Texts in_digits(const std::vector<std::size_t>& numbers) {
  Texts texts;
  for (const std::size_t number : numbers) texts.push_back(std::to_string(number));
  return texts;
}

/// The name of the entry `id`, or the id where the pack of today has none of that name.
template <typename List>
std::string name_in(const List& list, const std::string& id) {
  const auto found = pack::find(list, id);
  return found ? list[*found].name : id;
}

}  // namespace

std::string SheetText::joined(const Texts& parts) const {
  return join_words(parts, " " + word("and") + " ");
}

std::string SheetText::share(double probability) const {
  if (probability > 0 && probability < 0.005) return word("under-percent", {"1"});
  if (probability < 1 && probability >= 0.995) return word("over-percent", {"99"});
  return word("percent", {fmt::format("{:.0f}", 100 * probability)});
}

std::string SheetText::time(const Entry& entry) {
  std::string minute = entry.time.substr(0, 16);
  if (minute.size() > 10) minute[10] = ' ';
  return minute;
}

std::string SheetText::with_cylinders(const std::string& name, const Entry& entry) const {
  if (entry.cylinders.empty() || model_.machine.cylinders.size() == 1) return name;
  return name + ", " + at_cylinders(entry.cylinders);
}

std::string SheetText::at_cylinders(const std::vector<std::size_t>& cylinders) const {
  return word(cylinders.size() == 1 ? "cylinder" : "cylinders-at", {joined(in_digits(cylinders))});
}

std::string SheetText::place(Place place) const {
  const std::vector<std::size_t> cylinders = model_.cylinders_of(place);
  const bool own = model_.machine.carburettors.size() == model_.machine.cylinders.size();
  if (place.scope == pack::Scope::cylinder || (cylinders.size() == 1 && own)) {
    return at_cylinders(cylinders);
  }
  return word("carburettor-at", {std::to_string(place.number), at_cylinders(cylinders)});
}

std::string SheetText::with_place(const std::string& name, Place where) const {
  return model_.places(where.scope).size() == 1 ? name : name + ", " + place(where);
}

std::string SheetText::cause(std::size_t instance) const {
  const CauseInstance& cause = model_.causes[instance];
  return with_place(model_.pack.causes[cause.cause].name, cause.place);
}

/// "cylinders 1 and 3", "carburettor 1 (cylinders 1 and 2) and carburettor 2 (cylinders 3 and 4)".
std::string SheetText::places(const std::vector<Place>& places) const {
  std::vector<std::size_t> cylinders;
  Texts each;
  for (const Place one : places) {
    const std::vector<std::size_t> its = model_.cylinders_of(one);
    cylinders.insert(cylinders.end(), its.begin(), its.end());
    each.push_back(place(one));
  }
  if (cylinders.size() != places.size()) return joined(each);
  std::sort(cylinders.begin(), cylinders.end());
  return at_cylinders(cylinders);
}

std::vector<SheetText::Stands> SheetText::standings(const std::vector<Standing>& list) const {
  std::vector<Stands> lines;
  for (std::size_t begin = 0, end = 0; begin < list.size(); begin = end) {
    std::vector<Place> where;
    while (end < list.size() && tickover::alike(model_, list[begin], list[end])) {
      where.push_back(model_.causes[list[end++].cause].place);
    }
    const std::string its = share(list[begin].probability);
    if (where.size() == 1) {
      lines.push_back({cause(list[begin].cause), its});
    } else {
      const std::string& name = model_.pack.causes[model_.causes[list[begin].cause].cause].name;
      lines.push_back({name + ", " + places(where), word("each", {its})});
    }
  }
  return lines;
}

std::string SheetText::finding(std::size_t instance) const {
  const FindingInstance& finding = model_.findings[instance];
  return with_place(model_.pack.findings[finding.finding].name, finding.place);
}

/// What was seen, by the names of the check and of its outcome.
std::string SheetText::observation(const Entry& entry) const {
  const pack::Pack& pack = model_.pack;
  std::string name = entry.what, value = entry.value;
  std::optional<std::size_t> finding = pack::find(pack.findings, entry.what);
  if (const auto check = pack::find(pack.checks, entry.what)) {
    name = pack.checks[*check].name;
    finding = pack.checks[*check].finding;
  } else if (finding) {
    name = pack.findings[*finding].name;
  }
  if (finding && pack::find(pack.findings[*finding].outcomes, value)) {
    value = name_in(pack.findings[*finding].outcomes, value);
  } else {
    value = words_.answer(value);
  }
  name = with_cylinders(name, entry);
  if (entry.asked) return word("when-asked", {name, value});
  return name + ": " + value;
}

/// Names may have commas of their own.
std::string SheetText::parted(const Texts& names) { return join_words(names, "; ", "; "); }

/// Layers, causes or symptoms by their names.
Texts SheetText::names_of(const Entry& entry) const {
  Texts names;
  for (const std::string& id : entry.items) {
    if (entry.event == Event::finish) {
      const auto cause = pack::find(model_.pack.causes, id);
      const bool placed = cause && model_.pack.causes[*cause].scope != pack::Scope::engine;
      names.push_back(placed ? with_cylinders(cause_of_id(id), entry) : cause_of_id(id));
      continue;
    }
    const std::string plain = id.substr(0, id.find('@'));
    names.push_back(entry.event == Event::verify ? name_in(model_.pack.findings, plain)
                                                 : name_in(model_.pack.layers, plain));
  }
  return names;
}

std::string SheetText::cause_of_id(const std::string& id) const {
  for (std::size_t c = 0; c < model_.causes.size(); ++c) {
    if (model_.causes[c].id == id) return cause(c);
  }
  return name_in(model_.pack.causes, id.substr(0, id.find('@')));
}

std::string SheetText::finding_of_id(const std::string& id) const {
  for (std::size_t f = 0; f < model_.findings.size(); ++f) {
    if (model_.findings[f].id == id) return finding(f);
  }
  return name_in(model_.pack.findings, id.substr(0, id.find('@')));
}

std::string SheetText::listed(const Entry& entry, const std::string& with,
                              const std::string& without) const {
  const Texts names = names_of(entry);
  return names.empty() ? word(without) : word(with, {parted(names)});
}

std::string SheetText::act(const Entry& entry) const {
  switch (entry.event) {
    case Event::open:
      return word("opened");
    case Event::record:
      return observation(entry);
    case Event::strip:
      return listed(entry, "stripped", "stripped-all");
    case Event::refit:
      return listed(entry, "refitted", "refitted-all");
    case Event::verify:
      return entry.items.empty() ? word("verdict-" + entry.what)
                                 : word("verdict-" + entry.what) + " " +
                                       listed(entry, "gone-are", "verdict-" + entry.what);
    case Event::strike:
      return word("struck-out", {std::to_string(*entry.target)});
    case Event::finish:
      return listed(entry, "finished", "finished-open");
    default:
      return word("remark");
  }
}

std::string SheetText::repair(const Entry& entry) const {
  std::string text = with_cylinders(name_in(model_.pack.repairs, entry.what), entry);
  if (!entry.note.empty()) text += " (" + entry.note + ")";
  return printable(text);
}

std::string SheetText::entry(const Entry& entry) const {
  if (entry.event == Event::repair) return word("repaired", {repair(entry)});
  std::string text = act(entry);
  if (!entry.note.empty()) text += " (" + entry.note + ")";
  return printable(text);
}

std::string SheetText::replaced(const TrailStep& step) const {
  if (step.replaced_by.empty()) return {};
  return "; " + word(step.replaced_in_part ? "replaced-in-part" : "replaced",
                     {joined(in_digits(step.replaced_by))});
}

Texts parts_used(const Model& model, const Journal& journal) {
  std::set<std::string> needed;
  for (const Entry* entry : journal.valid()) {
    if (entry->event != Event::repair) continue;
    const auto& parts = model.pack.repairs[*pack::find(model.pack.repairs, entry->what)].parts;
    needed.insert(parts.begin(), parts.end());
  }
  return {needed.begin(), needed.end()};
}

std::string cylinders_in_digits(const Machine& machine) {
  const std::string names = machine.cylinder_names();
  return std::to_string(machine.cylinders.size()) + (names.empty() ? "" : " (" + names + ")");
}

}  // namespace tickover
