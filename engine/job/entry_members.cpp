#include "engine/job/entry_members.hpp"

#include <algorithm>

#include "engine/foundation/error.hpp"

namespace tickover {
namespace {

using Names = std::vector<std::string>;

/// Members that say something about an event; n, time, by, minutes and note may stand anywhere.
struct MemberRule {
  Event event;
  Names required, optional;
};

const std::vector<MemberRule>& member_rules() {
  static const std::vector<MemberRule> rules = {
      {Event::open, {"opening"}, {}},
      {Event::record, {"what", "value"}, {"cylinders", "asked", "confirmed"}},
      {Event::strip, {"items"}, {}},
      {Event::refit, {}, {"items"}},
      {Event::repair, {"what"}, {"cylinders"}},
      {Event::verify, {"what"}, {"items"}},
      {Event::strike, {"target"}, {}},
      {Event::note, {"note"}, {}},
      {Event::finish, {}, {"items", "cylinders"}},
  };
  return rules;
}

const MemberRule& rule_of(Event event) {
  return *std::find_if(member_rules().begin(), member_rules().end(),
                       [&](const MemberRule& rule) { return rule.event == event; });
}

/// The members of an entry that say something.
Names members_of(const Entry& entry) {
  Names names;
  const auto add = [&](bool present, const char* name) {
    if (present) names.emplace_back(name);
  };
  add(entry.opening.has_value(), "opening");
  add(!entry.what.empty(), "what");
  add(!entry.cylinders.empty(), "cylinders");
  add(!entry.value.empty(), "value");
  add(!entry.items.empty(), "items");
  add(entry.target.has_value(), "target");
  add(entry.asked, "asked");
  add(entry.confirmed, "confirmed");
  add(!entry.note.empty(), "note");
  return names;
}

bool among(const Names& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

/// A verification has one of three results, and names what is gone only when some of it is.
void check_verdict(const Entry& entry, const std::string& place) {
  const Names verdicts = {"gone", "still", "changed"};
  if (!among(verdicts, entry.what)) {
    throw unknown_name(InputFault::data, place, "verdict", entry.what, verdicts);
  }
  if (entry.items.empty() == (entry.what != "changed")) return;
  throw InputError(InputFault::data, place, "'items' goes with 'changed', and 'changed' with it",
                   "it names the symptoms that are gone");
}

}  // namespace

void check_entry_members(const Entry& entry, const std::string& place) {
  const MemberRule& rule = rule_of(entry.event);
  const Names present = members_of(entry);
  const std::string of_event = " for the event '" + std::string(name_of(entry.event)) + "'";
  for (const std::string& member : rule.required) {
    if (among(present, member)) continue;
    throw InputError(InputFault::data, place, "'" + member + "' is missing" + of_event);
  }
  for (const std::string& member : present) {
    if (member == "note" || among(rule.required, member) || among(rule.optional, member)) continue;
    throw InputError(InputFault::data, place, "'" + member + "' has no meaning" + of_event);
  }
  if (entry.event == Event::verify) check_verdict(entry, place);
}

}  // namespace tickover
