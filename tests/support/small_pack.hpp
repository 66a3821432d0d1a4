/// @file
/// What tests of whole jobs start from: the shipped knowledge, journals written in memory, and
/// packs small enough to enumerate.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis.hpp"
#include "engine/pack/load.hpp"

namespace tickover::test {

/// The text of a file of this repository.
std::string source_text(const std::string& path);

/// The shipped pack, loaded once.
const pack::Pack& shipped_pack();
/// The shipped sheet of that name, as JSON text.
std::string shipped_sheet(const std::string& machine);
const std::vector<std::string>& shipped_machines();
const std::string& machine_schema();

using Cylinders = std::vector<std::size_t>;

/// Writes a journal entry by entry, each a minute after the one before.
class JobWriter {
 public:
  explicit JobWriter(const std::string& sheet, const std::vector<std::string>& risks = {},
                     const std::string& complaint = "");

  JobWriter& record(const std::string& what, const std::string& value,
                    const Cylinders& cylinders = {});
  JobWriter& repair(const std::string& what, const Cylinders& cylinders = {});
  JobWriter& verify(const std::string& verdict, const std::vector<std::string>& gone = {});
  JobWriter& strip(const std::vector<std::string>& layers);
  JobWriter& refit(const std::vector<std::string>& layers = {});
  JobWriter& note(const std::string& text);
  JobWriter& strike(std::size_t entry);
  /// Any other entry; number and time are set here.
  JobWriter& add(Entry entry);

  const Journal& journal() const { return journal_; }
  std::size_t last() const { return journal_.entries.size(); }

 private:
  Journal journal_;
};

/// Reads the journal with `pack`.
Diagnosis diagnose(const pack::Pack& pack, const Journal& journal);
/// Reads it with the shipped pack.
Diagnosis diagnose(const JobWriter& job);

/// Index of the cause instance "pilot-jet-blocked@3"; there must be one.
std::size_t cause_instance(const Model& model, const std::string& id);
/// The finding instance "cold-header@2"; there must be one.
const FindingInstance& finding_instance(const Model& model, const std::string& id);

/// A number without a range.
pack::Number number(double value);

/// A pack of engine-wide causes, built by hand. Entries are named by their kind and index:
/// "cause-0", "symptom-0", "look-0", "layer-0", "repair-0".
class SmallPack {
 public:
  SmallPack(double verify_minutes, double hand_on_minutes);

  struct Link {
    std::size_t cause = 0;
    double strength = 0;
  };
  struct Layer {
    double open = 0, close = 0;
    std::vector<std::size_t> behind = {};
    bool runs_open = false;
    std::vector<std::string> needs = {};
  };
  struct Repair {
    std::vector<Link> removes;  ///< `strength` is the probability of success
    pack::Work minutes;
    std::vector<std::size_t> open = {};
  };
  struct Look {
    std::size_t cause = 0;
    double sensitivity = 0, false_alarm = 0;
    pack::Work minutes;
    std::vector<std::size_t> open = {};
  };

  /// Each adds an entry and returns its index in the pack's list.
  std::size_t cause(double prior);
  std::size_t symptom(double leak, const std::vector<Link>& links);
  std::size_t layer(const Layer& layer);
  std::size_t repair(const Repair& repair);
  /// An inspection with the outcomes "sound" and "faulty", and the check that obtains it; returns
  /// the check.
  std::size_t look(const Look& look);

  pack::Pack pack;
};

/// A sheet with that many cylinders, each with its own carburettor, and these features.
std::string plain_sheet(std::size_t cylinders = 1, const std::vector<std::string>& features = {});

/// Pack and plain machine together.
Model small_model(const SmallPack& small);

}  // namespace tickover::test
