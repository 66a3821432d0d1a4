/// @file
/// What a reader would object to in a pack that loads: causes no check can settle or tell apart,
/// checks not worth having, numbers and cautions that are missing.
///
/// Example:
///   for (const vet::Remark& r : vet::about_machine(build_model(pack, sheet, {}))) ...
#pragma once

#include <string>
#include <vector>

#include "engine/machine/model.hpp"

namespace tickover::vet {

/// An error or a warning spoils the pack unless it is excepted; a note is worth knowing.
enum class Severity { error, warning, note };
std::string_view name_of(Severity severity);

/// One objection.
struct Remark {
  Severity severity = Severity::warning;
  std::string rule;                ///< one of rules()
  std::vector<std::string> about;  ///< ids of the entries it is about, in order
  std::string place;               ///< "causes.json#/causes/3"
  std::string text;
  std::vector<std::string> machines = {};  ///< on which it holds; empty: whatever the machine
};

/// The names of all rules.
const std::vector<std::string>& rules();

/// "causes.json#/causes/3": `list` is the name of a list of the pack.
std::string place_in(const std::string& list, std::size_t index);

/// A cause counts as settled by a check that takes it from even odds to more or less than these.
constexpr double kRaised = 0.9, kLowered = 0.01;
/// Two causes of which one is present count as told apart when the best finding, asked once, says
/// which more often than this by its answers (1/2 is guessing).
constexpr double kToldApart = 0.7;
/// A symptom counts as unexplained when the leak is behind it more often than this.
constexpr double kLeakShare = 0.5;

/// What can be said without a machine: cautions that tools or steps imply, texts and provenance
/// that are missing, causes without repair, checks dominated by a cheaper one.
std::vector<Remark> about_texts(const pack::Pack& pack);
std::vector<Remark> about_cautions(const pack::Pack& pack);
std::vector<Remark> about_dominated(const pack::Pack& pack);

/// What depends on the machine: blind spots, causes not told apart, symptoms not explained.
std::vector<Remark> about_machine(const Model& model);

/// The same remark on several machines becomes one that names them; the first one's text stays.
/// When it holds on all of `machines` it names none.
std::vector<Remark> merged(const std::vector<std::vector<Remark>>& by_machine,
                           const std::vector<std::string>& machines);

}  // namespace tickover::vet
