#include "engine/evidence/something_to_see.hpp"

#include "engine/foundation/error.hpp"

namespace tickover {

void require_something_to_see(const Model& model, const Evidence& evidence, const Entry& entry,
                              std::size_t index, Place place) {
  const std::optional<std::size_t> instance = model.find_finding(index, place);
  if (!instance || entry.confirmed || entry.value == "unsure") return;
  if (const auto by = cleared(model, evidence, *instance)) {
    throw InputError(
        InputFault::usage, "",
        "'" + entry.what +
            "' has nothing to show yet: what it is seen by was renewed or cleaned in entry " +
            std::to_string(*by),
        "--confirm if it was seen before that, or the engine has run since; else run it first");
  }
  if (const auto by = not_run_since(model, evidence, *instance)) {
    throw InputError(InputFault::usage, "",
                     "'" + entry.what +
                         "' tells of the engine as it last ran, and no entry says that it has run "
                         "since the repair of entry " +
                         std::to_string(*by),
                     "--confirm if it has; what it shows of the time before goes into a note");
  }
}

std::optional<std::size_t> repair_before_look(const Model& model, const Evidence& evidence,
                                              const Entry& entry) {
  for (const Observation& seen : evidence.observations) {
    const std::optional<std::size_t> cause = model.findings[seen.finding].cause;
    if (seen.entry != entry.number || !cause) continue;
    for (const RepairDone& done : evidence.repairs) {
      if (done.cause == *cause && done.epoch > evidence.ran_in) return done.entry;
    }
  }
  return std::nullopt;
}

}  // namespace tickover
