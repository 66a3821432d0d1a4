/// @file
/// Results of a trial as JSON Lines: one line that says what is played, then one for each job.
#pragma once

#include <string>
#include <vector>

#include "engine/foundation/json_document.hpp"
#include "engine/trial/play.hpp"

namespace tickover::cli {

/// Every n-th job, from the i-th: shard i/n.
struct Shard {
  std::size_t i = 1, n = 1;
  bool operator==(const Shard&) const = default;
};

/// What is played: results join when all of this but the shard is the same.
struct TrialHead {
  std::string pack, pack_hash, machine, machine_hash, settings_hash;
  std::size_t jobs = 0;
  std::uint64_t seed = 0;
  bool perturbed = false;
  double slips = 0;
  std::vector<std::string> policies;
  Shard shard;
  bool operator==(const TrialHead&) const = default;

  std::vector<std::size_t> numbers() const;  ///< of the jobs of its shard, ascending
};

struct TrialResults {
  TrialHead head;
  std::vector<trial::JobResult> played;  ///< ascending by job
  std::size_t torn = 0;                  ///< bytes after the last whole line
};

std::string head_line(const TrialHead& head);
std::string played_line(const trial::JobResult& result);

/// Reads results; `schema` is trial.schema.json. Throws InputError (data) for a line that departs
/// from it, or jobs that are not those of the shard from the first on.
TrialResults parse_results(const std::string& text, const JsonSchema& schema,
                           const std::string& file);

/// The name of the first member in which two heads differ, the shard aside, or "".
std::string difference(const TrialHead& a, const TrialHead& b);

/// All shards of one trial as one. `files` names them in errors. Throws InputError (data) for
/// shards of different trials, the same job twice, or a job that is missing.
TrialResults merged(const std::vector<TrialResults>& shards, const std::vector<std::string>& files);

}  // namespace tickover::cli
