/// @file
/// One structured view of a job: what was done, what it showed, what was ruled out and by what.
/// Every number can be traced to journal entries and knowledge; renderers only put it into words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis.hpp"

namespace tickover {

/// A cause instance with its probability at some step.
struct Standing {
  std::size_t cause = 0;
  double probability = 0;
};

/// One journal entry and how things stood after it.
struct TrailStep {
  std::size_t entry = 0;
  bool struck = false;
  /// Most probable causes after it, at most three; none when struck. One that stands alike at
  /// several places (to the percent) counts once, and all of it follow each other.
  std::vector<Standing> leading;
  std::optional<double> cured_if_all_repaired;  ///< repairs: P(cured) of all repairs so far
  /// Later entries that count instead of this one, ascending: what was seen then stays in its step.
  std::vector<std::size_t> replaced_by = {};
  bool replaced_in_part = false;     ///< something of it counts still
  std::vector<double> present = {};  ///< P(each cause present) after it; empty when struck
};

/// Both are the same cause, at different places, and as probable to the percent.
bool alike(const Model& model, const Standing& a, const Standing& b);

/// A cause that was in question and is not any more.
struct RuledOut {
  std::size_t cause = 0;
  double highest = 0, now = 0;
  std::size_t by = 0;   ///< entry with the strongest weight against it
  double decibans = 0;  ///< that weight
};

/// A measured value, as found (before any repair of what moves it) or as left.
struct BenchValue {
  Observation seen;
  bool as_left = false;
  bool repaired_since = false;  ///< something that moves it was
};

struct Trail {
  std::vector<TrailStep> steps;
  std::vector<std::size_t> named;  ///< causes that the mechanic named when the job was finished
  std::vector<std::size_t> named_left;     ///< of those, what no entry repairs
  std::vector<std::size_t> probable_left;  ///< see probable_left
  std::vector<Standing> confirmed;         ///< causes present as found, at least kConfirmed
  std::vector<RuledOut> ruled_out;         ///< largest fall first
  std::vector<Standing> remaining;         ///< present now, at least kInQuestion
  std::vector<BenchValue> bench;
  std::vector<BenchValue> left_beyond;  ///< out of limits, and nothing repaired for it
  std::vector<Observation> left_bad;    ///< parts seen bad, and nothing done to them
  /// Repairs (pack.repairs) done at some places, others not even looked at, of which the rider is
  /// told Repair::siblings.
  std::vector<std::size_t> siblings_left;
  double unlisted = 0;
  bool contradiction = false;
};

/// A cause counts as in question from this probability on, and as ruled out when it has fallen to a
/// tenth of what it was; as confirmed from kConfirmed.
constexpr double kInQuestion = 0.05;
constexpr double kConfirmed = 0.8;
/// A rider is told to watch for a cause from this probability on: what is at a few per cent is for
/// the next mechanic, and would frighten for nothing.
constexpr double kWorthWatching = 0.2;
constexpr double kLooksBad = 3;

/// True when a repair of something that moves this reading came before it; of a setting, before it
/// was last set: a screw that nobody has touched is as found, whatever else was repaired.
bool as_left(const Diagnosis& job, const Observation& seen);
/// True when a repair of something that moves this reading came after it.
bool repaired_since(const Diagnosis& job, const Observation& seen);

/// The last reading at its place, where that is out of limits on a side on which something listed
/// can put it: more flow than wanted is nothing to put right.
std::vector<BenchValue> last_beyond(const Diagnosis& job);
/// Of those, the ones that nothing has been repaired for since.
std::vector<BenchValue> left_beyond(const Diagnosis& job);
/// Inspections of parts that looked bad when last looked at (what was seen is at least kLooksBad
/// times as probable with the fault as without), and that nothing was done to since.
std::vector<Observation> left_bad(const Diagnosis& job);

/// Once the complaint is gone: causes present as found with at least kConfirmed that no entry
/// repairs, most probable first. Belief has them gone with the complaint, and nobody saw to it.
/// Without those that were named, or that left_bad tells.
std::vector<std::size_t> probable_left(const Diagnosis& job);

/// Two readings of a part that cannot both be right, the later one second: one out of limits and
/// the other not, further apart than the instrument explains, with no repair of what moves it
/// between.
struct Disagreement {
  Observation first, then;
};
std::vector<Disagreement> disagreements(const Diagnosis& job);

/// The evidence as it was after `entry`: with what was replaced only later, without what was struck
/// out later, since it never held.
Evidence evidence_after(const Diagnosis& job, const Journal& journal, std::size_t entry);

/// Recomputes the belief after every entry.
Trail make_trail(const Diagnosis& job, const Journal& journal);

/// The trail as JSON text (format 1).
std::string trail_json(const Diagnosis& job, const Journal& journal, const Trail& trail);

}  // namespace tickover
