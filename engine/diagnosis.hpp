/// @file
/// The whole pipeline: journal -> evidence -> belief -> plan. The one header most callers need.
///
/// Example:
///   Diagnosis job(pack::load(files, schema, "knowledge/carburettor"), journal, machine_schema,
///   "bike.job"); for (const plan::Proposal& p : job.advise().proposals) ...
#pragma once

#include <string>

#include "engine/belief/decide.hpp"
#include "engine/belief/ground.hpp"
#include "engine/belief/infer.hpp"
#include "engine/evidence/evidence.hpp"
#include "engine/plan/compare.hpp"

namespace tickover {

/// A job as it stands. Not copied or moved: its parts refer to each other.
class Diagnosis {
 public:
  /// `machine_schema` is the text of machine.schema.json, `file` names the journal in errors.
  /// Throws InputError when the journal does not fit the pack; for its last entry as a mistake of
  /// usage when `last_is_new`.
  Diagnosis(pack::Pack pack, const Journal& journal, const std::string& machine_schema,
            const std::string& file, bool last_is_new = false);
  Diagnosis(const Diagnosis&) = delete;
  Diagnosis& operator=(const Diagnosis&) = delete;

  const Model& model() const { return model_; }
  const Evidence& evidence() const { return evidence_; }
  const belief::Ground& ground() const { return ground_; }
  const plan::Workshop& workshop() const { return workshop_; }

  belief::Case given() const { return ground_.given(evidence_); }
  /// What answers are given from: narrowed where the whole is too wide.
  belief::Case judged() const { return belief::narrowed(given()); }
  belief::Belief infer() const { return belief::infer(judged()); }
  /// Nodes of the complaint's symptoms.
  std::vector<std::size_t> complaint() const { return ground_.nodes_of(evidence_.complaint); }
  plan::Advice advise(const plan::Shop& shop = {}, std::size_t detailed = 1,
                      const plan::Effort& effort = {}) const;
  /// Two proposals of `advice` for the same shop, both told in full.
  plan::Comparison compare(const plan::Shop& shop, const plan::Advice& advice,
                           const plan::Proposal& first, const plan::Proposal& other) const;
  /// Likewise against a repair (of pack.repairs).
  std::optional<plan::Comparison> compare(const plan::Shop& shop, const plan::Advice& advice,
                                          const plan::Proposal& first, std::size_t repair) const;

 private:
  Model model_;
  Evidence evidence_;
  belief::Ground ground_;
  plan::Workshop workshop_;
};

}  // namespace tickover
