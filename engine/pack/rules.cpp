#include "engine/pack/rules.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/foundation/json_document.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"

namespace tickover::pack {
namespace {

/// Sums of probabilities typed by hand are right when they miss 1 by no more than this.
constexpr double kHandSum = 1e-9;
/// Planning keeps sets of layers in one machine word (machine/layer_set.hpp).
constexpr std::size_t kMostLayers = 64;

std::string at(const std::string& folder, const std::string& file, std::size_t index,
               const std::string& rest = {}) {
  return json_place(folder + "/" + file + ".json", "/" + (file == "access" ? "layers" : file) +
                                                       "/" + std::to_string(index) + rest);
}

[[noreturn]] void fail(const std::string& place, const std::string& what,
                       const std::string& hint = {}) {
  throw InputError(InputFault::data, place, what, hint);
}

double total(const std::vector<Number>& numbers) {
  double sum = 0;
  for (const Number& number : numbers) sum += number.value;
  return sum;
}

void check_level_numbers(const std::vector<Number>& numbers, std::size_t levels,
                         const std::string& place, const std::string& what) {
  if (numbers.size() != levels) {
    fail(place,
         what + " should have " + std::to_string(levels) + " number" + (levels == 1 ? "" : "s"),
         "one for each level above the first");
  }
  if (total(numbers) > 1 + kHandSum) {
    fail(place, what + " sums to " + shortest(total(numbers)), "the sum should be at most 1");
  }
}

void check_links(const Pack& pack, std::size_t index, const std::string& folder) {
  const Finding& finding = pack.findings[index];
  const std::size_t levels = finding.kind == Kind::reading ? 1 : finding.levels.size() - 1;
  check_level_numbers(finding.leak, levels, at(folder, "findings", index, "/leak"), "leak");
  std::set<std::size_t> linked;
  for (std::size_t i = 0; i < finding.links.size(); ++i) {
    const Link& link = finding.links[i];
    const std::string place = at(folder, "findings", index, "/links/" + std::to_string(i));
    check_level_numbers(link.strength, levels, place + "/strength", "strength");
    if (!linked.insert(link.cause).second) {
      fail(place, "cause '" + pack.causes[link.cause].id + "' is linked twice");
    }
  }
  for (std::size_t i = 0; i < finding.spoiled_by.size(); ++i) {
    const Cause& spoiler = pack.causes[finding.spoiled_by[i]];
    const std::string place = at(folder, "findings", index, "/spoiled-by/" + std::to_string(i));
    const Cause& first = pack.causes[finding.spoiled_by.front()];
    if (spoiler.scope !=
        first.scope) {  // they would tie what each of them hides together: too wide
      fail(place, "the causes that spoil a finding have one scope",
           "'" + first.id + "' has scope " + std::string(name_of(first.scope)));
    }
    if (linked.count(finding.spoiled_by[i]) == 0) continue;
    fail(place, "cause '" + spoiler.id + "' is linked to the finding that it spoils",
         "it either makes '" + finding.id + "' show or keeps it from showing");
  }
}

void check_outcomes(const Pack& pack, std::size_t index, const std::string& folder) {
  const Finding& finding = pack.findings[index];
  const std::string place = at(folder, "findings", index, "/outcomes");
  double present = 0, absent = 0;
  std::set<std::string> ids;
  for (const Outcome& outcome : finding.outcomes) {
    present += outcome.present.value;
    absent += outcome.absent.value;
    if (!ids.insert(outcome.id).second) fail(place, "outcome '" + outcome.id + "' is given twice");
  }
  for (const auto& [sum, column] : {std::pair(present, "present"), std::pair(absent, "absent")}) {
    if (std::abs(sum - 1) <= kHandSum) continue;
    fail(place, std::string("the likelihoods under '") + column + "' sum to " + shortest(sum),
         "each column should sum to 1");
  }
  if (pack.causes[finding.cause].scope != finding.scope) {
    fail(at(folder, "findings", index, "/scope"), "an inspection has the scope of its cause",
         "'" + pack.causes[finding.cause].id + "' has scope " +
             std::string(name_of(pack.causes[finding.cause].scope)));
  }
}

void check_unit(const std::string& unit, const std::string& place) {
  if (!known_unit(unit)) {
    throw unknown_name(InputFault::data, place, "unit", unit, all_units());
  }
}

void check_plausible(double low, double high, const std::string& unit, const std::string& place) {
  if (!(low < high)) fail(place, "the lowest plausible value stands first");
  for (const double value : {low, high}) {
    try {
      quantity_in(value, unit);
    } catch (const InputError& error) {  // below absolute zero, or too large
      fail(place, "this cannot be a value in " + unit, error.hint());
    }
  }
}

/// With links both ways every sibling would need two bits at once in belief; and a cause that moves
/// one place up cannot be told from causes that move all others down.
void check_siblings(const Finding& finding, const std::string& place) {
  if (!finding.sibling_tolerance) {
    if (!finding.nominal.empty()) return;
    fail(place, "'nominal' is missing", "or 'sibling-tolerance', if places are compared");
  }
  if (finding.scope == Scope::engine) {
    fail(place + "/sibling-tolerance", "the engine has no siblings",
         "compare places of scope carburettor or cylinder");
  }
  for (const Link& link : finding.links) {
    if (link.direction == finding.links.front().direction) continue;
    fail(place + "/links", "a reading against siblings is moved one way only",
         "give the causes of the other direction a reading of their own");
  }
}

void check_gases(const Finding& finding, const std::string& place) {
  std::set<std::string> names;
  for (std::size_t i = 0; i < finding.gases.size(); ++i) {
    const Gas& gas = finding.gases[i];
    const std::string here = place + "/gases/" + std::to_string(i);
    if (!names.insert(gas.name).second) fail(here, "the gas '" + gas.name + "' is given twice");
    check_unit(gas.unit, here + "/unit");
    if (dimension_of(gas.unit) != Dimension::fraction) {
      fail(here + "/unit", "'" + gas.unit + "' measures no share of a gas", "use % or ppm");
    }
    check_plausible(gas.plausible_low, gas.plausible_high, gas.unit, here + "/plausible");
  }
  for (const std::string name : {"CO", "CO2", "HC", "O2"}) {
    if (names.count(name) > 0) continue;
    fail(place + "/gases", "the gas '" + name + "' is missing", "lambda is computed from it");
  }
  if (dimension_of(finding.unit) != Dimension::number || finding.nominal.empty()) {
    fail(place + "/unit", "an exhaust sample is judged by its lambda", "the unit is 1");
  }
  if (finding.plausible_low < 1 && finding.plausible_high > 1) return;
  fail(place + "/plausible", "a lambda may lie on both sides of 1");
}

void check_reading(const Finding& finding, std::size_t index, const std::string& folder) {
  const std::string place = at(folder, "findings", index);
  check_unit(finding.unit, place + "/unit");
  check_plausible(finding.plausible_low, finding.plausible_high, finding.unit,
                  place + "/plausible");
  check_siblings(finding, place);
  if (!finding.gases.empty()) return check_gases(finding, place);
  for (std::size_t i = 0; i < finding.links.size(); ++i) {
    if (finding.links[i].direction != Direction::thinned) continue;
    fail(place + "/links/" + std::to_string(i) + "/direction", "only an exhaust sample is thinned",
         "one of: low, high");
  }
}

/// "unsure" is what a mechanic says who saw nothing clear; no answer of a finding may be called so.
void check_answers(const Finding& finding, std::size_t index, const std::string& folder) {
  std::vector<std::string> answers = finding.levels;
  for (const Outcome& outcome : finding.outcomes) answers.push_back(outcome.id);
  if (std::find(answers.begin(), answers.end(), "unsure") == answers.end()) return;
  fail(at(folder, "findings", index), "'unsure' cannot be an answer of '" + finding.id + "'",
       "it is what is recorded when no answer was found");
}

void check_finding(const Pack& pack, std::size_t index, const std::string& folder) {
  const Finding& finding = pack.findings[index];
  check_answers(finding, index, folder);
  if (finding.against_siblings && finding.scope == Scope::engine) {
    fail(at(folder, "findings", index, "/against-siblings"), "the engine has no siblings",
         "compare places of scope carburettor or cylinder");
  }
  if (finding.kind == Kind::inspection) return check_outcomes(pack, index, folder);
  check_links(pack, index, folder);
  if (finding.kind == Kind::reading) check_reading(finding, index, folder);
}

bool can_be_moved(const Finding& finding) {
  if (finding.kind != Kind::inspection) {
    for (const Link& link : finding.links) {
      if (total(link.strength) > 0) return true;
    }
    return false;
  }
  for (const Outcome& outcome : finding.outcomes) {
    if (outcome.present.value != outcome.absent.value) return true;
  }
  return false;
}

void check_causes_can_show(const Pack& pack, const std::string& folder) {
  std::set<std::size_t> shown;
  for (const Finding& finding : pack.findings) {
    if (finding.kind == Kind::inspection && can_be_moved(finding)) shown.insert(finding.cause);
    for (const Link& link : finding.links) {
      if (total(link.strength) > 0) shown.insert(link.cause);
    }
  }
  for (std::size_t i = 0; i < pack.causes.size(); ++i) {
    if (shown.count(i)) continue;
    fail(at(folder, "causes", i), "no finding can show the cause '" + pack.causes[i].id + "'",
         "link it in findings.json, or give it an inspection");
  }
}

/// Of a check or a repair: the engine runs only with what stops it closed.
template <class Work>
void check_running(const Pack& pack, const Work& work, const std::string& place) {
  if (!work.running) return;
  for (const std::size_t layer : with_prerequisites(pack, work.open)) {
    if (pack.layers[layer].runs_open) continue;
    fail(place + "/open", "the engine cannot run with '" + pack.layers[layer].id + "' open",
         "'" + work.id + "' needs it running");
  }
}

void check_shut(const Pack& pack, const Check& check, const std::string& place) {
  for (const std::size_t layer : with_prerequisites(pack, check.open)) {
    if (std::find(check.shut.begin(), check.shut.end(), layer) == check.shut.end()) continue;
    fail(place + "/shut", "'" + pack.layers[layer].id + "' must be open for '" + check.id + "'",
         "what it is done behind cannot be shut");
  }
}

void check_checks(const Pack& pack, const std::string& folder) {
  for (std::size_t i = 0; i < pack.checks.size(); ++i) {
    const Finding& finding = pack.findings[pack.checks[i].finding];
    if (!can_be_moved(finding)) {
      fail(at(folder, "checks", i), "no cause can move the check '" + pack.checks[i].id + "'",
           finding.kind == Kind::inspection
               ? "each outcome is as likely with the cause as without it"
               : "its finding '" + finding.id + "' has no link above 0");
    }
    const auto same_name = find(pack.findings, pack.checks[i].id);
    if (same_name && *same_name != pack.checks[i].finding) {
      fail(at(folder, "checks", i, "/id"), "another finding has the id '" + pack.checks[i].id + "'",
           "a check may share its name only with the finding it obtains");
    }
    check_running(pack, pack.checks[i], at(folder, "checks", i));
    check_shut(pack, pack.checks[i], at(folder, "checks", i));
  }
  for (std::size_t i = 0; i < pack.repairs.size(); ++i) {
    check_running(pack, pack.repairs[i], at(folder, "repairs", i));
  }
}

void check_access(const Pack& pack, const std::string& folder) {
  if (pack.layers.size() > kMostLayers) {
    fail(at(folder, "access", kMostLayers),
         "there are more than " + std::to_string(kMostLayers) + " layers");
  }
  const std::vector<std::size_t> cycle = access_cycle(pack.layers);
  if (cycle.empty()) return;
  std::vector<std::string> names;
  for (const std::size_t layer : cycle) names.push_back(pack.layers[layer].id);
  fail(at(folder, "access", cycle.front(), "/behind"),
       "access goes in a circle: " + join_words(names, " behind ") + " behind " + names.front());
}

void check_words(const Pack& pack, const std::string& folder) {
  for (std::size_t i = 0; i < pack.words.size(); ++i) {
    for (const std::size_t finding : pack.words[i].means) {
      if (pack.findings[finding].kind == Kind::symptom) continue;
      fail(at(folder, "words", i, "/means"), "'" + pack.findings[finding].id + "' is not a symptom",
           "rider's words mean symptoms");
    }
  }
}

struct MemberRule {
  const char* member;
  bool listed, inspection, reading;  ///< allowed for symptom and response / inspection / reading
  bool required;                     ///< where allowed
};

constexpr MemberRule kMemberRules[] = {
    {"levels", true, false, false, false},     {"leak", true, false, true, true},
    {"links", true, false, true, true},        {"cause", false, true, false, true},
    {"outcomes", false, true, false, true},    {"unit", false, false, true, true},
    {"nominal", false, false, true, false},    {"instrument", false, false, true, true},
    {"plausible", false, false, true, true},   {"slip", false, false, true, true},
    {"when", true, false, true, false},        {"sibling-tolerance", false, false, true, false},
    {"gases", false, false, true, false},      {"set-by", false, false, true, false},
    {"instead-of", false, false, true, false}, {"spoiled-by", true, false, false, false},
    {"cleared-by", true, false, false, false}, {"left-by-running", true, false, false, false},
};

/// Which way and how far: said of what moves a reading, and of nothing else.
void check_link_members(const Node& link, Kind kind) {
  for (const std::string member : {"direction", "shift"}) {
    if (kind == Kind::reading && !link.has(member)) {
      link.fail("'" + member + "' is missing: a reading's link needs 'direction' and 'shift'");
    }
    if (kind != Kind::reading && link.has(member)) {
      link.at(member).fail("'" + member + "' has a meaning only for a reading's link");
    }
  }
}

void check_removals(const Pack& pack, const std::string& folder) {
  for (std::size_t i = 0; i < pack.repairs.size(); ++i) {
    std::set<std::size_t> removed;
    for (const Removal& removal : pack.repairs[i].removes) {
      if (removed.insert(removal.cause).second) continue;
      fail(at(folder, "repairs", i, "/removes"),
           "cause '" + pack.causes[removal.cause].id + "' is removed twice");
    }
  }
}

void check_risks(const Pack& pack, const std::string& folder) {
  for (std::size_t i = 0; i < pack.risks.size(); ++i) {
    std::set<std::size_t> raised;
    for (const Raise& raise : pack.risks[i].raises) {
      if (raised.insert(raise.cause).second) continue;
      fail(at(folder, "risks", i, "/raises"),
           "cause '" + pack.causes[raise.cause].id + "' is raised twice");
    }
  }
}

}  // namespace

void check_members(const Node& finding, Kind kind) {
  for (const MemberRule& rule : kMemberRules) {
    const bool allowed = kind == Kind::inspection ? rule.inspection
                         : kind == Kind::reading  ? rule.reading
                                                  : rule.listed;
    const std::string of_kind = " for a finding of kind " + std::string(name_of(kind));
    if (allowed && rule.required && !finding.has(rule.member)) {
      finding.fail("'" + std::string(rule.member) + "' is missing" + of_kind);
    }
    if (!allowed && finding.has(rule.member)) {
      finding.at(rule.member).fail("'" + std::string(rule.member) + "' has no meaning" + of_kind);
    }
  }
  for (const Node& link : finding.items("links")) check_link_members(link, kind);
}

void check_rules(const Pack& pack, const std::string& folder) {
  check_access(pack, folder);
  for (std::size_t i = 0; i < pack.findings.size(); ++i) check_finding(pack, i, folder);
  check_causes_can_show(pack, folder);
  check_checks(pack, folder);
  check_removals(pack, folder);
  check_risks(pack, folder);
  check_words(pack, folder);
}

}  // namespace tickover::pack
