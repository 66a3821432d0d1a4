/// @file
/// What a journal means for a model: observations with their epoch, repairs, the state of access.
/// Every observation keeps the entry it came from.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/job/journal.hpp"
#include "engine/machine/access.hpp"
#include "engine/machine/model.hpp"

namespace tickover {

/// How likely a reading is (density per unit, any common factor) when nothing moves it, when
/// something moves it low, high, or both ways.
struct ReadingLikelihood {
  double still = 1, low = 1, high = 1, both = 1;
};

/// What one entry says of one finding instance.
struct Observation {
  std::size_t entry = 0;    ///< number of the journal entry
  std::size_t finding = 0;  ///< index into Model::findings
  std::size_t epoch = 0;
  std::size_t level = 0;          ///< symptom, response: level; inspection: outcome
  std::optional<double> reading;  ///< readings: the value in SI
  ReadingLikelihood likelihood;   ///< readings only
};

/// A repeated look at the same part: the later entry counts instead of the earlier.
struct Replaced {
  std::size_t entry = 0, by = 0;
};

/// One cause instance that a repair was to remove.
struct RepairDone {
  std::size_t entry = 0;
  std::size_t repair = 0;  ///< index into pack.repairs
  std::size_t cause = 0;   ///< index into Model::causes
  std::size_t epoch = 1;   ///< the first epoch in which it is gone, if it succeeded
  double success = 1;
};

/// All that counts for belief and plan. Built from the entries that are not struck.
struct Evidence {
  std::vector<Observation> observations;  ///< in order of entry; replaced ones left out
  std::vector<Observation> unsure;        ///< looked for, without an answer
  std::vector<Replaced> replaced;         ///< observations that a later one took the place of
  std::vector<RepairDone> repairs;
  std::size_t epoch = 0;                 ///< repairs so far
  OpenLayers open_layers;                ///< prerequisites included
  std::vector<std::size_t> complaint;    ///< symptom instances present in epoch 0, ascending
  std::vector<std::size_t> appeared;     ///< symptoms that were absent, then present after a repair
  std::size_t repairs_since_verify = 0;  ///< repairs not yet proven by running the engine
  std::optional<std::string> verdict;    ///< of the last verification: gone, still, changed
  bool finished = false;
  double minutes_noted = 0;  ///< sum of the minutes given with entries
};

/// Interprets a journal. Throws InputError (data, or usage for the last entry when `last_is_new`)
/// for an entry that names what the model does not have, with the nearest known name, or a value
/// that its finding cannot take. `file` names the journal in errors.
Evidence collect_evidence(const Model& model, const Journal& journal, const std::string& file,
                          bool last_is_new = false);

/// The finding that `word` names: the id of a finding, or of a check that obtains one. Throws
/// InputError (usage) with the nearest name.
std::size_t finding_named(const Model& model, const std::string& word);

}  // namespace tickover
