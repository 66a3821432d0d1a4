/// @file
/// What a journal means for a model: observations with their epoch, repairs, the state of access.
/// Every observation keeps the entry it came from.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/evidence/attempts.hpp"
#include "engine/job/journal.hpp"
#include "engine/machine/access.hpp"
#include "engine/machine/model.hpp"

namespace tickover {

/// One way in which something can move a value: a reading's instance and the direction.
struct Way {
  std::size_t finding = 0;  ///< index into Model::findings
  pack::Direction direction = pack::Direction::low;
  bool operator==(const Way&) const = default;
};

/// How likely what was read is (density, any common factor) for each combination of ways that are
/// at work: bit i of the index is set when ways[i] is. Without ways it tells nothing.
struct JointLikelihood {
  std::vector<Way> ways;
  std::vector<double> table;
};

/// Lambda of an exhaust sample, with standard deviations from the errors of the cells.
struct SampleLambda {
  double lambda = 1, error = 0;
  double undiluted = 1;  ///< lambda if the oxygen that burning cannot account for is outside air
  double undiluted_error = 0;
  double balance = 1, balance_error = 0;  ///< all gases by oxygen balance over the sample
  bool doubtful = false;  ///< it reads lean, but without outside air it would be rich
};

/// What one entry says of one finding instance.
struct Observation {
  std::size_t entry = 0;    ///< number of the journal entry
  std::size_t finding = 0;  ///< index into Model::findings
  std::size_t epoch = 0;
  std::size_t level = 0;          ///< symptom, response: level; inspection: outcome
  std::optional<double> reading;  ///< readings: the value in SI
  JointLikelihood likelihood;     ///< readings: what this one adds to those before it
  std::optional<double> sibling;  ///< readings against siblings: the sibling furthest the other way
  std::optional<SampleLambda> sample;  ///< exhaust samples
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
  double success = 1;      ///< P(it succeeds | those before it failed): Attempts
  std::size_t seen = 0;    ///< how often earlier repairs of it were forgotten: Attempts
};

/// All that counts for belief and plan. Built from the entries that are not struck.
struct Evidence {
  std::vector<Observation> observations;  ///< in order of entry; replaced ones left out
  std::vector<Observation> unsure;        ///< looked for, without an answer
  std::vector<Replaced> replaced;         ///< observations that another took the place of
  std::vector<Observation> told;          ///< findings that a reading recorded tells as well
  std::vector<RepairDone> repairs;
  Attempts attempts;       ///< those of repairs
  std::size_t epoch = 0;   ///< repairs so far
  OpenLayers open_layers;  ///< prerequisites included
  /// What must go: symptom instances that the rider spoke of unasked, at any time (all that are
  /// present in epoch 0 where nothing was), ascending.
  std::vector<std::size_t> complaint;
  std::vector<std::size_t> appeared;     ///< symptoms that were absent, then present after a repair
  std::size_t ran_in = 0;                ///< the last epoch in which the engine was run
  OpenLayers moved_since_run;            ///< layers opened or closed since it was
  OpenLayers opened;                     ///< layers that were open at any time
  std::size_t repairs_since_verify = 0;  ///< repairs not yet proven by running the engine
  std::optional<std::string> verdict;    ///< of the last verification: gone, still, changed
  /// The entry of the last verification where that found the complaint gone, and more was repaired
  /// since.
  std::optional<std::size_t> gone_before;
  bool finished = false;
  std::vector<std::size_t> confirmed;  ///< cause instances named when it was finished, ascending
  double minutes_noted = 0;            ///< sum of the minutes given with entries
};

/// Interprets a journal. Throws InputError (data, or usage for the last entry when `last_is_new`)
/// for an entry that names what the model does not have, with the nearest known name, or a value
/// that its finding cannot take. `file` names the journal in errors.
Evidence collect_evidence(const Model& model, const Journal& journal, const std::string& file,
                          bool last_is_new = false);

/// Interprets a journal that grows: entries are read once.
class EvidenceReader {
 public:
  /// `model` must stay.
  explicit EvidenceReader(const Model& model);
  ~EvidenceReader();

  /// The next entry that is not struck out. Throws as collect_evidence does, without the place of
  /// the entry in a file. `is_new`: typed now, so what it leaves open can be asked for.
  void take(const Entry& entry, bool is_new = false);
  /// Of all entries so far.
  Evidence evidence();

 private:
  class Collector;
  std::unique_ptr<Collector> collector_;
};

/// The epoch that finding instance `instance`, looked at now, tells of: the current one; of a
/// setting, the one in which it was last set, since what somebody compensated once stays to be read
/// though the cause is gone.
std::size_t epoch_told(const Model& model, const Evidence& evidence, std::size_t instance);

/// Finding instance `instance` is known of the part as it is now: seen since a cause of it was
/// repaired, for a look; in the epoch it tells of, else. "unsure" and what another reading told
/// count.
bool answered(const Model& model, const Evidence& evidence, std::size_t instance);
/// The number of the entry whose repair took away what the finding instance would be seen by
/// (Finding::cleared_by), where the machine has not been run since.
std::optional<std::size_t> cleared(const Model& model, const Evidence& evidence,
                                   std::size_t instance);
/// Of what the running engine leaves (Finding::left_by_running), the number of the entry that
/// repaired a cause of it, where no entry says that the engine has run since.
std::optional<std::size_t> not_run_since(const Model& model, const Evidence& evidence,
                                         std::size_t instance);
/// The places of a finding that are not answered, and where there is something to see, in their
/// order.
std::vector<Place> places_left(const Model& model, const Evidence& evidence, std::size_t finding);

}  // namespace tickover
