// Sections of the sheet that every form of it has: only their marks differ.

#include <algorithm>

#include "engine/foundation/error.hpp"
#include "engine/foundation/units.hpp"
#include "engine/trail/sheet_text.hpp"

namespace tickover {
namespace {

using Texts = std::vector<std::string>;

bool named(const Trail& trail, std::size_t cause) {
  return std::find(trail.named.begin(), trail.named.end(), cause) != trail.named.end();
}

}  // namespace

std::vector<SheetText::Stands> SheetText::found(const Trail& trail) const {
  std::vector<Stands> lines;
  for (const std::size_t one : trail.named) lines.push_back({cause(one), word("confirmed")});
  std::vector<Standing> others = trail.confirmed;
  std::erase_if(others, [&](const Standing& one) { return named(trail, one.cause); });
  for (const Stands& one : standings(others)) lines.push_back(one);
  return lines;
}

Texts SheetText::found_for_rider(const Trail& trail) const {
  Texts names;
  for (const std::size_t one : trail.named) names.push_back(cause(one));
  if (!names.empty()) return names;
  for (const Stands& one : standings(trail.confirmed)) names.push_back(one.cause);
  return names;
}

Texts SheetText::watch(const Trail& trail) const {
  std::vector<std::size_t> left = trail.named_left;
  left.insert(left.end(), trail.probable_left.begin(), trail.probable_left.end());
  std::vector<std::size_t> told = left;
  for (const Observation& seen : trail.left_bad) {
    told.push_back(*model_.findings[seen.finding].cause);
  }
  std::vector<Standing> worth = trail.remaining;
  std::erase_if(worth, [&](const Standing& one) {
    return one.probability < kWorthWatching || std::count(told.begin(), told.end(), one.cause) > 0;
  });
  Texts names;
  for (const std::size_t one : left) names.push_back(cause(one));
  for (const Observation& seen : trail.left_bad) {
    const pack::Finding& what = model_.pack.findings[model_.findings[seen.finding].finding];
    names.push_back(word("left-bad", {finding(seen.finding), what.outcomes[seen.level].name}));
  }
  for (const Stands& one : standings(worth)) names.push_back(one.cause);
  for (const BenchValue& value : trail.left_beyond) {
    const std::string& unit =
        model_.pack.findings[model_.findings[value.seen.finding].finding].unit;
    names.push_back(
        word("left-beyond", {finding(value.seen.finding),
                             format_quantity({*value.seen.reading, dimension_of(unit)}, unit, 4)}));
  }
  for (const std::size_t repair : trail.siblings_left) {
    names.push_back(model_.pack.repairs[repair].siblings);
  }
  return names;
}

std::vector<std::pair<std::string, std::string>> SheetText::cautions(const Journal& journal) const {
  const pack::Pack& pack = model_.pack;
  pack::Cautions all = pack.frame.verify_cautions;
  for (const Entry* entry : journal.valid()) {
    if (entry->event != Event::repair) continue;
    const pack::Cautions& more = pack.repairs[*pack::find(pack.repairs, entry->what)].cautions;
    all.insert(all.end(), more.begin(), more.end());
  }
  std::vector<std::pair<std::string, std::string>> lines;
  for (const std::size_t index : pack::by_grade(pack, all)) {
    const pack::Caution& caution = pack.cautions[index];
    lines.emplace_back(word("grade-" + std::string(name_of(caution.grade))), caution.text);
  }
  return lines;
}

Texts SheetText::earlier(const Journal& journal) const {
  if (!journal.opening().earlier) return {};
  const Earlier& before = *journal.opening().earlier;
  Texts lines = {word(
      "earlier-job", {printable(before.job), before.time.substr(0, 10), before.sum.substr(0, 12)})};
  if (!before.complaint.empty()) {
    lines.push_back(word("rider-said") + " \"" + printable(before.complaint) + "\"");
  }
  const auto list = [&](const std::string& key, const Texts& names) {
    if (!names.empty()) lines.push_back(word(key, {parted(names)}));
  };
  Texts symptoms, causes, repairs;
  for (const std::string& id : before.symptoms) symptoms.push_back(finding_of_id(id));
  for (const std::string& id : before.causes) causes.push_back(cause_of_id(id));
  for (const Earlier::Repair& done : before.repairs) {
    Entry entry;
    entry.event = Event::repair;
    entry.what = done.repair;
    entry.cylinders = done.cylinders;
    repairs.push_back(repair(entry));
  }
  list("earlier-complaint", symptoms);
  list("earlier-cause", causes);
  list("earlier-repaired", repairs);
  lines.push_back(word(before.verdict.empty() ? "verdict-none" : "verdict-" + before.verdict));
  return lines;
}

std::string SheetText::road_test(const Evidence& evidence) const {
  if (evidence.verdict) return word("verdict-" + *evidence.verdict);
  if (evidence.repairs.empty())
    return word(evidence.finished ? "verdict-as-it-came" : "verdict-nothing-done");
  if (!evidence.gone_before) return word("verdict-none");
  return word("verdict-gone-before", {std::to_string(*evidence.gone_before)});
}

std::string SheetText::closing_remark(const Journal& journal) const {
  for (const Entry* entry : journal.valid()) {
    if (entry->event == Event::finish) return entry->note;
  }
  return {};
}

std::string SheetText::state(const BenchValue& value) const {
  if (value.as_left) return word("as-left");
  return word(value.repaired_since ? "as-found" : "found-unchanged");
}

}  // namespace tickover
