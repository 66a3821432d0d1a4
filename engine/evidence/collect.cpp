#include <algorithm>
#include <cctype>
#include <map>
#include <set>

#include "engine/evidence/answers.hpp"
#include "engine/evidence/confirmed.hpp"
#include "engine/evidence/evidence.hpp"
#include "engine/evidence/road_test.hpp"
#include "engine/evidence/something_to_see.hpp"
#include "engine/evidence/symptoms.hpp"
#include "engine/evidence/take_reading.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"
#include "engine/machine/access.hpp"

namespace tickover {
namespace {

/// "; here --cyl 3 cold" where the number was put before the answer.
std::string cylinder_in(const std::string& value) {
  const std::size_t blank = value.find(' ');
  const bool number = blank > 0 && value.find_first_not_of("0123456789,") == blank;
  const bool word = number && std::isalpha(static_cast<unsigned char>(value[blank + 1])) != 0 &&
                    !known_unit(value.substr(blank + 1));
  return word ? "; here: --cyl " + printable(value) : std::string();
}

}  // namespace

/// One pass over the valid entries of a journal.
class EvidenceReader::Collector {
 public:
  explicit Collector(const Model& model) : model_(model), access_(model) {
    evidence_.attempts = Attempts(model.pack.again.value);
  }

  void take(const Entry& entry, bool is_new) {
    if (entry.minutes) evidence_.minutes_noted += *entry.minutes;
    switch (entry.event) {
      case Event::record:
        return record(entry, is_new);
      case Event::strip:
        return strip(entry);
      case Event::refit:
        return refit(entry);
      case Event::repair:
        return repair(entry);
      case Event::verify:
        return verify(entry, is_new);
      case Event::finish:
        return finish(entry, is_new);
      default:
        return;
    }
  }

  Evidence so_far() {
    Evidence all = evidence_;
    give_way(model_, all);
    compare_siblings(model_, all, siblings_told_);
    join_repeated(model_, all);
    find_complaint(model_, told_unasked_, all);
    find_appeared(model_, all);
    return all;
  }

 private:
  /// The places an entry speaks of, in the scope of what it names.
  std::vector<Place> places(const Entry& entry, pack::Scope scope, const std::string& name) const {
    const std::size_t count = model_.machine.cylinders.size();
    for (const std::size_t cylinder : entry.cylinders) {
      if (cylinder <= count) continue;
      throw InputError(InputFault::usage, "", "there is no cylinder " + std::to_string(cylinder),
                       "this machine has " + std::to_string(count));
    }
    if (scope == pack::Scope::engine) {
      if (entry.cylinders.empty() || count == 1) return {Place{}};
      throw InputError(InputFault::usage, "", "'" + name + "' belongs to the whole engine",
                       "leave out --cyl");
    }
    if (!entry.cylinders.empty()) return at_cylinders(entry.cylinders, scope);
    if (model_.places(scope).size() == 1) return model_.places(scope);
    throw InputError(InputFault::usage, "",
                     "'" + name + "' is taken per " + std::string(pack::name_of(scope)),
                     "say which cylinder: --cyl 1 to --cyl " + std::to_string(count) +
                         ", several as 1,2, or all" + cylinder_in(entry.value));
  }

  std::vector<Place> at_cylinders(const std::vector<std::size_t>& cylinders,
                                  pack::Scope scope) const {
    std::vector<Place> found;
    for (const std::size_t cylinder : cylinders) {
      const Place place = model_.place_at(scope, cylinder);
      if (std::find(found.begin(), found.end(), place) == found.end()) found.push_back(place);
    }
    return found;
  }

  void record(const Entry& entry, bool is_new) {
    const std::size_t index = finding_named(model_, entry.what);
    const pack::Finding& finding = model_.pack.findings[index];
    const std::vector<Place> where = places(entry, finding.scope, entry.what);
    if (entry.asked && finding.kind != pack::Kind::symptom) {
      throw InputError(InputFault::usage, "", "'" + finding.id + "' is no symptom",
                       "only of symptoms a rider speaks when asked: leave out --asked");
    }
    imply_access(entry.what, index);
    if (!finding.gases.empty() && entry.value != "unsure") {
      return take_sample(model_, evidence_, entry, index, where);
    }
    for (const Place place : where) {
      if (is_new) require_something_to_see(model_, evidence_, entry, index, place);
      observe(entry, index, place);
    }
  }

  void observe(const Entry& entry, std::size_t index, Place place) {
    const std::optional<std::size_t> instance = model_.find_finding(index, place);
    if (!instance) return;  // not reached: finding_named refuses what this machine lacks
    Observation seen;
    seen.entry = entry.number;
    seen.finding = *instance;
    seen.epoch = epoch_told(model_, evidence_, *instance);
    if (entry.value == "unsure") {
      evidence_.unsure.push_back(seen);
      return;
    }
    const pack::Finding& finding = model_.pack.findings[index];
    if (finding.kind == pack::Kind::reading) {
      take_reading(model_, evidence_, entry, seen);
    } else {
      seen.level = answer_named(model_.machine, finding, entry.value);
    }
    // what a check shows is no complaint of the rider's either
    const bool told = !entry.asked && entry.what == finding.id && seen.level > 0;
    if (told) told_unasked_.insert(*instance);
    // another reading of the same part has an error of its own, and adds (join_repeated); against
    // siblings it stands for its place, and the later counts
    if (finding.kind != pack::Kind::reading || finding.sibling_tolerance) {
      replace_earlier(seen, finding.kind);
    }
    evidence_.observations.push_back(seen);
    if (const auto cause = model_.findings[*instance].cause) evidence_.attempts.forget(*cause);
    forget_what_may_be_new(seen);
    const bool gone = evidence_.verdict == "gone" && finding.kind == pack::Kind::symptom;
    if (gone && told) evidence_.verdict = as_heard(evidence_, told_unasked_);
  }

  /// Stronger than it was before a repair, it may come from something new: no repair of that
  /// failed.
  void forget_what_may_be_new(const Observation& seen) {
    if (seen.reading) return;
    const std::vector<Observation>& all = evidence_.observations;
    const bool weaker = std::any_of(all.begin(), all.end(), [&](const Observation& before) {
      return before.finding == seen.finding && before.epoch < seen.epoch &&
             before.level < seen.level;
    });
    if (!weaker) return;
    for (const LinkInstance& link : model_.findings[seen.finding].links) {
      evidence_.attempts.forget(link.cause);
    }
  }

  /// A repeated look has the same eyes and the same part before them: the later one counts. It is
  /// the same part as long as no repair has touched it; a symptom is heard anew in every epoch.
  void replace_earlier(const Observation& seen, pack::Kind kind) {
    std::erase_if(evidence_.observations, [&](const Observation& earlier) {
      if (earlier.finding != seen.finding) return false;
      const bool same_state = kind == pack::Kind::inspection
                                  ? repairs_of(seen.finding, earlier.epoch) == 0
                                  : earlier.epoch == seen.epoch;
      if (same_state) evidence_.replaced.push_back({earlier.entry, seen.entry});
      return same_state;
    });
  }

  /// Repairs of the inspected cause that came after `epoch`.
  std::ptrdiff_t repairs_of(std::size_t finding, std::size_t epoch) const {
    const std::optional<std::size_t> cause = model_.findings[finding].cause;
    return std::count_if(
        evidence_.repairs.begin(), evidence_.repairs.end(),
        [&](const RepairDone& done) { return done.cause == cause && done.epoch > epoch; });
  }

  /// A check that was done shows how the machine stood: by name, or the first that fits as it
  /// stands, of those that the machine is made for where there are such.
  void imply_access(const std::string& word, std::size_t finding) {
    const pack::Check* chosen = nullptr;
    bool chosen_applies = false, chosen_fits = false;
    for (const pack::Check& check : model_.pack.checks) {
      if (check.finding != finding) continue;
      const AccessNeed need = access_.need_of(check);
      if (check.id == word) return change_access(need);
      const bool applies = model_.applies(check.needs);
      const bool fits = access_.after(evidence_.open_layers, need) == evidence_.open_layers;
      if (chosen && std::pair(chosen_applies, chosen_fits) >= std::pair(applies, fits)) continue;
      chosen = &check;
      chosen_applies = applies;
      chosen_fits = fits;
    }
    if (chosen != nullptr) change_access(access_.need_of(*chosen));
  }

  void change_access(const AccessNeed& need) {
    move_to(access_.after(evidence_.open_layers, need));
    if (need.running) run_engine();
  }

  void move_to(const OpenLayers& layers) {
    const OpenLayers before = evidence_.open_layers;
    evidence_.moved_since_run = evidence_.moved_since_run | (before - layers) | (layers - before);
    evidence_.opened = evidence_.opened | layers;
    evidence_.open_layers = layers;
  }

  void run_engine() {
    evidence_.ran_in = evidence_.epoch;
    evidence_.moved_since_run.clear();
  }

  std::size_t layer_named(const std::string& id) const {
    const auto layer = pack::find(model_.pack.layers, id);
    if (!layer) {
      throw unknown_name(InputFault::usage, "", "access layer", id,
                         pack::ids_of(model_.pack.layers));
    }
    require_features(model_, id, model_.pack.layers[*layer].needs);
    return *layer;
  }

  void strip(const Entry& entry) {
    for (const std::string& id : entry.items)
      change_access({.open = access_.with_prerequisites({layer_named(id)})});
  }

  void refit(const Entry& entry) {
    for (const std::string& id : entry.items) {
      move_to(access_.without(evidence_.open_layers, layer_named(id)));
    }
    if (entry.items.empty()) move_to({});
  }

  void repair(const Entry& entry) {
    const auto index = pack::find(model_.pack.repairs, entry.what);
    if (!index) {
      throw unknown_name(InputFault::usage, "", "repair", entry.what,
                         pack::ids_of(model_.pack.repairs), "'tickover list repairs'");
    }
    const auto& repair = model_.pack.repairs[*index];
    require_features(model_, entry.what, repair.needs);
    ++evidence_.epoch;
    ++evidence_.repairs_since_verify;
    if (evidence_.verdict == "gone") evidence_.gone_before = verified_in_;
    evidence_.verdict.reset();
    change_access(access_.need_of(repair));
    for (const pack::Removal& removal : repair.removes) remove(entry, *index, removal);
  }

  void remove(const Entry& entry, std::size_t repair, const pack::Removal& removal) {
    const pack::Scope scope = model_.pack.causes[removal.cause].scope;
    for (const Place place : places_repaired(entry, repair, scope)) {
      const auto cause = model_.find_cause(removal.cause, place);
      if (!cause) continue;  // this machine does not have the part
      const double success = evidence_.attempts.make(*cause, removal.success.value);
      evidence_.repairs.push_back({entry.number, repair, *cause, evidence_.epoch, success,
                                   evidence_.attempts.forgotten(*cause)});
    }
  }

  /// A repair of something of the engine that touches parts at single places too is done at all of
  /// them, unless it is said where.
  std::vector<Place> places_repaired(const Entry& entry, std::size_t repair,
                                     pack::Scope scope) const {
    if (scope == pack::Scope::engine) return {Place{}};
    for (const pack::Removal& one : model_.pack.repairs[repair].removes) {
      const bool of_engine = model_.find_cause(one.cause, Place{}).has_value();
      if (of_engine && entry.cylinders.empty()) return model_.places(scope);
    }
    return places(entry, scope, entry.what);
  }

  /// Changed is said where something of the complaint is still there.
  void require_something_left(const Entry& entry) const {
    const auto named = [&](std::size_t finding) {
      const std::string& id = model_.pack.findings[model_.findings[finding].finding].id;
      return std::find(entry.items.begin(), entry.items.end(), id) != entry.items.end();
    };
    const std::vector<std::size_t>& all = evidence_.complaint;
    if (entry.what != "changed" || all.empty() || !std::all_of(all.begin(), all.end(), named))
      return;
    throw InputError(InputFault::usage, "", "these are all that the rider complains of",
                     "where all of it is gone: verify JOB gone");
  }

  /// Gone: every complaint is absent now. Still: every one is as it was. Changed: those named are
  /// gone, the others are as they were.
  void verify(const Entry& entry, bool is_new) {
    if (is_new) require_repair_before_gone(evidence_, entry);
    move_to({});
    run_engine();
    evidence_.repairs_since_verify = 0;
    evidence_.verdict = entry.what;
    evidence_.gone_before.reset();
    verified_in_ = entry.number;
    find_complaint(model_, told_unasked_, evidence_);
    std::set<std::size_t> heard(evidence_.complaint.begin(), evidence_.complaint.end());
    for (const std::string& id : entry.items) {
      const std::set<std::size_t> told = symptoms_told(id);
      heard.insert(told.begin(), told.end());
    }
    if (is_new) require_something_left(entry);
    for (const std::size_t finding : heard) {
      const std::string& id = model_.pack.findings[model_.findings[finding].finding].id;
      const bool named = std::find(entry.items.begin(), entry.items.end(), id) != entry.items.end();
      const bool gone = entry.what == "gone" || (entry.what == "changed" && named);
      hear_again(entry, finding, gone);
    }
  }

  void hear_again(const Entry& entry, std::size_t finding, bool gone) {
    Observation seen;
    seen.entry = entry.number;
    seen.finding = finding;
    seen.epoch = evidence_.epoch;
    seen.level = gone ? 0 : last_level(finding);
    replace_earlier(seen, pack::Kind::symptom);
    evidence_.observations.push_back(seen);
  }

  /// At which it was there last.
  std::size_t last_level(std::size_t finding) const {
    const std::vector<Observation>& all = evidence_.observations;
    const auto last = std::find_if(all.rbegin(), all.rend(), [&](const Observation& seen) {
      return seen.finding == finding && seen.level > 0;
    });
    return last == all.rend() ? 1 : last->level;
  }

  /// Of the complaint, or told when the rider was asked: only what was there can have gone.
  std::set<std::size_t> symptoms_told(const std::string& id) const {
    std::set<std::size_t> told;
    std::vector<std::string> ids;
    for (const Observation& seen : evidence_.observations) {
      const pack::Finding& finding = model_.pack.findings[model_.findings[seen.finding].finding];
      if (finding.kind != pack::Kind::symptom || seen.level == 0) continue;
      if (finding.id == id) told.insert(seen.finding);
      if (std::find(ids.begin(), ids.end(), finding.id) == ids.end()) ids.push_back(finding.id);
    }
    if (!told.empty()) return told;
    throw InputError(InputFault::usage, "",
                     "'" + printable(id) + "' is not recorded as being there",
                     ids.empty() ? "no symptom is" : "what is: " + join_words(ids));
  }

  void finish(const Entry& entry, bool is_new) {
    evidence_.confirmed = causes_confirmed(model_, evidence_, entry, is_new);
    evidence_.finished = true;
  }

  const Model& model_;
  const Access access_;
  Evidence evidence_;
  std::size_t verified_in_ = 0;         ///< the entry of the last verification
  std::set<std::size_t> told_unasked_;  ///< symptoms that the rider came with
  AllSiblingsTold siblings_told_;
};

EvidenceReader::EvidenceReader(const Model& model)
    : collector_(std::make_unique<Collector>(model)) {}
EvidenceReader::~EvidenceReader() = default;

void EvidenceReader::take(const Entry& entry, bool is_new) { collector_->take(entry, is_new); }

Evidence EvidenceReader::evidence() { return collector_->so_far(); }

Evidence collect_evidence(const Model& model, const Journal& journal, const std::string& file,
                          bool last_is_new) {
  EvidenceReader reader(model);
  const std::size_t newest = journal.entries.size();
  for (const Entry* entry : journal.valid()) {
    const bool is_new = last_is_new && entry->number == newest;
    try {
      reader.take(*entry, is_new);
    } catch (const InputError& error) {
      // a new entry is a mistake of the command; an old one does not fit this pack any more
      if (is_new) throw;
      throw InputError(InputFault::data, file + ":" + std::to_string(entry->number), error.rule(),
                       error.hint());
    }
  }
  return reader.evidence();
}

}  // namespace tickover
