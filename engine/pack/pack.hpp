/// @file
/// The knowledge in memory: what can be wrong, what it shows, how to look, how to mend it.
/// A Pack that exists is valid (see load.hpp) and never changes.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "engine/foundation/error.hpp"

namespace tickover::pack {

/// Where a number comes from. A judgement has a credible range, a published number a source.
enum class Basis { published, common_practice, judgement };

/// A probability (0 to 1) or odds ratio (above 0) with its provenance.
/// `low` and `high` equal `value` where the pack gives no range.
struct Number {
  double value = 0;
  double low = 0;
  double high = 0;
  Basis basis = Basis::judgement;
  std::string source;  ///< id in sources.json, or empty
  std::string place;   ///< "findings.json#/findings/3/leak/0": where a person finds it
};

/// A thing of scope `carburettor` or `cylinder` stands for one instance at each such place.
enum class Scope { engine, carburettor, cylinder };

enum class Mixture { lean, normal, rich };

/// A fault in one place: present or absent.
struct Cause {
  std::string id, name;
  Scope scope = Scope::engine;
  Mixture mixture = Mixture::lean;
  std::string explain;
  Number prior;                    ///< P(present) before the complaint is heard, per instance
  Number disturbed;                ///< P(a repair or refit newly brings it), per instance
  std::vector<std::string> needs;  ///< features of the machine without which it cannot exist
};

enum class Kind { symptom, response, inspection, reading };

/// Where a cause moves a reading. Thinned is said of exhaust samples: outside air is in the gas.
enum class Direction { low, high, thinned };

/// A cause that can produce a finding.
struct Link {
  std::size_t cause = 0;         ///< index into Pack::causes
  std::vector<Number> strength;  ///< P(exactly level 1, 2, .. | this cause alone); sum <= 1
  std::string reason;
  Direction direction = Direction::low;  ///< readings: which way it moves the value
  double shift = 0;  ///< readings: typical way beyond the tolerance, in the unit
};

/// What an inspection can show, with its likelihood either way.
struct Outcome {
  std::string id, name;
  Number present, absent;
};

/// One gas of an exhaust sample and the cell that measures it. The error of the cell is
/// hypot(instrument, relative * value).
struct Gas {
  std::string name;  ///< CO, CO2, HC, O2 or NO
  std::string unit;
  double instrument = 0;  ///< standard deviation in the unit
  double relative = 0;    ///< standard deviation as a share of the value
  double plausible_low = 0, plausible_high = 0;
  bool needed = true;  ///< a sample without it is refused
};

/// Under which conditions a symptom is meant.
struct Conditions {
  std::string throttle = "any", engine = "any", load = "any";
};

/// What can be observed. Which members matter depends on `kind`:
/// symptom, response: levels, leak, links; inspection: cause, outcomes; reading: the rest and
/// links.
struct Finding {
  /// A rider can be asked for it.
  bool askable() const { return kind == Kind::symptom && !ask.empty(); }

  std::string id, name;
  Kind kind = Kind::symptom;
  Scope scope = Scope::engine;
  std::string ask, reason;
  Conditions when;
  std::vector<std::string> needs;
  std::vector<std::string> levels;  ///< from least to most; the first means absent
  std::vector<Number> leak;         ///< P(exactly level 1, 2, .. | no listed cause); readings: one
  std::vector<Link> links;
  /// Symptom, response: causes (indices into Pack::causes) in whose presence the finding cannot
  /// show what else there is at their place: "no" then tells nothing.
  std::vector<std::size_t> spoiled_by;
  /// Repairs (indices into Pack::repairs) that take away what it would be seen by: until the engine
  /// has run again there is nothing to see.
  std::vector<std::size_t> cleared_by;
  /// The running engine leaves what is seen: it tells of the machine as it last ran.
  bool left_by_running = false;
  /// It tells a cylinder from its siblings: what they all share shows in it by Pack::shown_apart.
  bool against_siblings = false;
  std::size_t cause = 0;
  std::vector<Outcome> outcomes;
  std::string unit;       ///< of the value
  std::string nominal;    ///< key of the machine's wanted value; "": only the siblings are compared
  double instrument = 0;  ///< standard deviation in the unit
  double plausible_low = 0, plausible_high = 0;
  Number slip;  ///< P(a reading says nothing about the part: slipped, misread, wrong unit)
  std::optional<double> sibling_tolerance;  ///< readings against siblings: how far off their common
                                            ///< level a place in order may lie, in the unit
  std::vector<Gas> gases;  ///< of an exhaust sample, whose lambda is the value; empty otherwise
  std::vector<std::string> set_by;      ///< a setting keeps what it tells of until such a repair
  std::vector<std::string> instead_of;  ///< findings that say the same and give way to this one
};

/// How badly somebody may be hurt, as the signal words of ISO 3864-2 and ANSI Z535.4: danger, death
/// or grave injury if it is not avoided; warning, it could be; caution, light injury; and, after
/// ANSI Z535.6, notice: damage or a breach of rules, nobody hurt. Gravest first.
enum class Grade { danger, warning, caution, notice };

/// What calls for a caution: any one of these.
struct Implied {
  bool running = false;                   ///< a check or repair for which it runs
  std::vector<std::string> tools, words;  ///< said of the tools; said in the steps
  std::vector<std::size_t> open;          ///< layers (indices into Pack::layers)
};

/// A hazard and how to keep clear of it.
struct Caution {
  std::string id;
  Grade grade = Grade::danger;
  std::string hazard;  ///< its kind: "fire", "burn"
  std::string text;
  Implied implied_by;
};

/// Indices into Pack::cautions.
using Cautions = std::vector<std::size_t>;

/// Minutes of work without opening and closing: once for the job and each for every place.
struct Work {
  double once = 0, each = 0;
};

/// A way to obtain a finding.
struct Check {
  std::string id, name;
  std::size_t finding = 0;
  std::string purpose;  ///< what it is done for; may be empty
  std::string good;     ///< what is seen when all is well; may be empty
  std::vector<std::string> how, mistakes, tools, needs;
  Cautions cautions;
  Work minutes;
  std::vector<std::size_t> open;  ///< layers that must be open (indices into Pack::layers)
  std::vector<std::size_t> shut;  ///< layers that must not be
  bool running = false;           ///< the engine runs: every layer that stops it must be closed
  bool together = false;          ///< all its places are done in one go
};

/// A cause that a repair removes, with the probability that it does.
struct Removal {
  std::size_t cause = 0;
  Number success;
};

struct Repair {
  std::string id, name;
  std::vector<Removal> removes;
  std::vector<std::string> how, parts, needs;
  Cautions cautions;
  Work minutes;
  double parts_minutes = 0;  ///< what parts at one place count as where the shop lacks a price
  std::vector<std::size_t> open;
  bool running = false;  ///< the engine runs for it
  std::string
      siblings;  ///< what the rider is told of the places where it was not done; may be empty
};

/// Something to take off before what lies behind it can be reached.
struct Layer {
  std::string id, name;
  std::vector<std::size_t> behind;  ///< layers that must be open before this one can be
  double open_minutes = 0, close_minutes = 0;
  bool runs_open = false;  ///< the engine can run while it is open
  std::vector<std::string> needs;
  Cautions cautions;
  Cautions first_start;  ///< of the first start after it was opened or closed
};

struct Raise {
  std::size_t cause = 0;
  Number odds;  ///< factor on the prior odds
  std::string reason;
};

/// Something known of the machine that makes causes likelier.
struct Risk {
  std::string id, name, ask;
  std::vector<Raise> raises;
  /// A job in which one of these layers was open, or one of these repairs done, leaves it behind.
  std::vector<std::size_t> left_by_layers, left_by_repairs;
};

/// What a rider says, and the symptoms (indices into Pack::findings) it may mean.
struct Words {
  std::string say;
  std::vector<std::size_t> means;
};

struct Source {
  std::string id, title, section, note;
};

/// What asking costs, how a cure is proven once everything is closed, what giving the job up costs.
struct Frame {
  double ask_minutes = 0;  ///< one question to the rider
  double verify_minutes = 0;
  std::vector<std::string> verify_how;
  Cautions verify_cautions;
  double hand_on_minutes = 0;
  std::string hand_on_reason;
  Number
      verify_misses;  ///< P(the complaint does not show in it | it is still there); 0 if not told
};

struct Pack {
  std::string id, version, title, defers_to;
  std::string hash;  ///< SHA-256 over all files, names and contents in the order of names
  Frame frame;
  Number disturbed;  ///< P(work for a repair brings in a cause that could show what newly appeared)
  Number fades;      ///< P(a cause ends at a repair that was not meant for it); 0 when not told
  /// P(a repair that failed is new luck when done again), see Attempts; 1 when not told.
  Number again = {1, 1, 1, Basis::judgement, {}, {}};
  /// Of what a cause in the one carburettor of all cylinders does, the share that shows at one of them more than
  /// at its siblings; 1 when not told.
  Number shown_apart = {1, 1, 1, Basis::judgement, {}, {}};
  std::vector<std::vector<std::string>> one_of;  ///< features of which a machine has just one
  std::vector<Cause> causes;
  std::vector<Finding> findings;
  std::vector<Check> checks;
  std::vector<Repair> repairs;
  std::vector<Layer> layers;
  std::vector<Caution> cautions;
  std::string cautions_defer_to;  ///< what stands above all cautions, in one sentence
  std::vector<Risk> risks;
  std::vector<Words> words;
  std::vector<Source> sources;
};

/// Index of the entry with that id, or none. `entries` is one of the pack's lists.
template <class Entry>
std::optional<std::size_t> find(const std::vector<Entry>& entries, std::string_view id) {
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (entries[i].id == id) return i;
  }
  return std::nullopt;
}

template <class Entry>
std::vector<std::string> ids_of(const std::vector<Entry>& entries) {
  std::vector<std::string> ids;
  for (const Entry& entry : entries) ids.push_back(entry.id);
  return ids;
}

/// `cautions` gravest first and none twice, otherwise in their order.
Cautions by_grade(const Pack& pack, const Cautions& cautions);

/// The layers that must be open to have `wanted` open, each after those before it.
/// Sorted topologically with Boost.Graph; `wanted` included.
std::vector<std::size_t> with_prerequisites(const Pack& pack,
                                            const std::vector<std::size_t>& wanted);

/// Layers that form a cycle of `behind`, in order, or none. Only for loading: a Pack has none.
std::vector<std::size_t> access_cycle(const std::vector<Layer>& layers);

std::string_view name_of(Basis basis);
std::string_view name_of(Scope scope);
std::string_view name_of(Mixture mixture);
std::string_view name_of(Kind kind);
std::string_view name_of(Grade grade);

}  // namespace tickover::pack
