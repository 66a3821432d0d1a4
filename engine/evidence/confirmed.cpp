#include "engine/evidence/confirmed.hpp"

#include <algorithm>
#include <set>

#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover {
namespace {

class Namer {
 public:
  Namer(const Model& model, const Evidence& evidence, const Entry& entry, bool is_new)
      : model_(model), evidence_(evidence), entry_(entry), is_new_(is_new) {}

  std::set<std::size_t> instances() const {
    std::set<std::size_t> all;
    for (const std::string& word : entry_.items) {
      const std::vector<std::size_t> meant = instances_of(word);
      all.insert(meant.begin(), meant.end());
    }
    if (!entry_.cylinders.empty()) require_use_of_cylinders();
    return all;
  }

 private:
  std::vector<std::size_t> instances_of(const std::string& word) const {
    for (std::size_t c = 0; c < model_.causes.size(); ++c) {
      if (model_.causes[c].id == word && word.find('@') != std::string::npos) return {c};
    }
    const std::size_t cause = cause_named(word);
    const pack::Scope scope = model_.pack.causes[cause].scope;
    std::vector<std::size_t> places;
    if (scope == pack::Scope::engine || entry_.cylinders.empty()) {
      for (std::size_t c = 0; c < model_.causes.size(); ++c) {
        if (model_.causes[c].cause == cause) places.push_back(c);
      }
    }
    for (const std::size_t cylinder : entry_.cylinders) {
      if (scope == pack::Scope::engine) break;
      places.push_back(*model_.find_cause(cause, place_at(scope, cylinder)));
    }
    return entry_.cylinders.empty() && places.size() > 1 ? where_repaired(word, places) : places;
  }

  std::size_t cause_named(const std::string& word) const {
    const auto cause = pack::find(model_.pack.causes, word);
    if (!cause) {
      require_place(word);
      throw unknown_name(InputFault::usage, "", "cause", word, pack::ids_of(model_.pack.causes),
                         "'tickover list causes'");
    }
    const bool here = std::any_of(model_.causes.begin(), model_.causes.end(),
                                  [&](const CauseInstance& one) { return one.cause == *cause; });
    if (here) return *cause;
    throw does_not_apply(word, model_.pack.causes[*cause].needs);
  }

  /// Of "pilot-jet-blocked@9" the cause is known, and the place is not.
  void require_place(const std::string& word) const {
    const std::string plain = word.substr(0, word.find('@'));
    const auto cause = pack::find(model_.pack.causes, plain);
    if (!cause) return;
    const std::size_t count = model_.places(model_.pack.causes[*cause].scope).size();
    throw InputError(
        InputFault::usage, "", "'" + printable(word) + "' names no place of '" + plain + "'",
        count == 1 ? "it has one only: --cause " + plain
                   : "--cause " + plain + "@1 to --cause " + plain + "@" + std::to_string(count));
  }

  Place place_at(pack::Scope scope, std::size_t cylinder) const {
    const std::size_t count = model_.machine.cylinders.size();
    if (cylinder <= count) return model_.place_at(scope, cylinder);
    throw InputError(InputFault::usage, "", "there is no cylinder " + std::to_string(cylinder),
                     "this machine has " + std::to_string(count));
  }

  std::vector<std::size_t> where_repaired(const std::string& word,
                                          const std::vector<std::size_t>& places) const {
    std::vector<std::size_t> repaired;
    for (const std::size_t place : places) {
      if (tickover::repaired(evidence_, place)) repaired.push_back(place);
    }
    if (repaired.size() == 1 || !is_new_) return repaired;
    throw InputError(InputFault::usage, "",
                     "'" + word + "' may be at any of " +
                         std::to_string(repaired.empty() ? places.size() : repaired.size()) +
                         " places" + (repaired.empty() ? "" : " where it was repaired"),
                     "say where: --cause " +
                         cause_word(model_, (repaired.empty() ? places : repaired).front()) +
                         ", or --cause " + word + " --cyl 1,2; or all");
  }

  void require_use_of_cylinders() const {
    const bool used = std::any_of(entry_.items.begin(), entry_.items.end(), [&](const auto& word) {
      const auto cause = pack::find(model_.pack.causes, word);
      return cause && model_.pack.causes[*cause].scope != pack::Scope::engine;
    });
    if (used || (!entry_.items.empty() && model_.machine.cylinders.size() == 1)) return;
    throw InputError(InputFault::usage, "", "--cyl says where a cause was, and none needs it here",
                     "leave it out, or name a cause that belongs to cylinders");
  }

  const Model& model_;
  const Evidence& evidence_;
  const Entry& entry_;
  const bool is_new_;
};

}  // namespace

std::vector<std::size_t> causes_confirmed(const Model& model, const Evidence& evidence,
                                          const Entry& entry, bool is_new) {
  const std::set<std::size_t> all = Namer(model, evidence, entry, is_new).instances();
  return {all.begin(), all.end()};
}

bool repaired(const Evidence& evidence, std::size_t cause) {
  return std::any_of(evidence.repairs.begin(), evidence.repairs.end(),
                     [&](const RepairDone& done) { return done.cause == cause; });
}

std::string cause_word(const Model& model, std::size_t instance) {
  const CauseInstance& cause = model.causes[instance];
  const bool alone = model.places(cause.place.scope).size() == 1;
  return alone ? model.pack.causes[cause.cause].id : cause.id;
}

}  // namespace tickover
