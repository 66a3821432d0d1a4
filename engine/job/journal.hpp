/// @file
/// The journal of a job: what was said and done, one entry a line, never changed, only added to.
///
/// Text form: JSON Lines. Each line ends with a checksum over itself and the line before, so an
/// altered, missing or torn line is seen. Knows no knowledge pack: readable for ever.
///   {"n":1,"time":"2026-03-02T09:00:00Z","event":"open", ... ,"sum":"9f86d081884c7d65..."}
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tickover {

class JsonSchema;

enum class Event { open, record, strip, refit, repair, verify, strike, note, finish };

std::string_view name_of(Event event);

/// The job before this one, of a machine that came back: what the next mechanic wants to know of it
/// though its file may be lost. Ids with the number of their place: "pilot-jet-blocked@3".
struct Earlier {
  struct Repair {
    std::string repair;
    std::vector<std::size_t> cylinders;
  };
  std::string job;        ///< the file's name as it was given
  std::string sum;        ///< checksum of its last line: which job it was, and how it stood
  std::string time;       ///< of its last entry
  std::string complaint;  ///< the rider's words then
  std::string verdict;    ///< of its last verification; empty for none
  std::vector<std::string> symptoms, causes;  ///< the complaint; the causes named at the end
  std::vector<Repair> repairs;
};

/// What the first line pins, so that the job can be replayed years later.
struct Opening {
  std::string pack, pack_version, pack_hash;
  std::string sheet;                    ///< the machine sheet as it was, JSON text
  std::vector<std::string> risks;       ///< ids
  std::string complaint;                ///< the rider's own words
  std::optional<Earlier> earlier = {};  ///< where the machine came back
};

/// One line. Which members matter depends on the event.
struct Entry {
  std::size_t number = 0;  ///< from 1, without gaps
  std::string time;        ///< UTC, ISO 8601
  std::string by;          ///< who, when given
  Event event = Event::note;
  std::optional<Opening> opening;
  std::string what;  ///< record: finding; repair: repair; verify: gone, still, changed
  std::vector<std::size_t> cylinders;  ///< where; empty for the engine
  std::string value;                   ///< record: what was seen, as given
  /// strip, refit: layers; verify: symptoms gone; finish: causes, "pilot-jet-blocked@3" at that
  /// place, and where no place is told of one that has several, at `cylinders`.
  std::vector<std::string> items;
  std::optional<std::size_t> target;  ///< strike: the entry that no longer counts
  std::optional<double> minutes;      ///< how long it took, when given
  bool confirmed = false;             ///< record: an implausible value that was confirmed
  bool asked = false;                 ///< record: a symptom that the rider spoke of when asked
  std::string note;                   ///< note, remark, or the reason of a strike
};

/// A job as read. `struck[i]` tells that entries[i] no longer counts: a later strike names it, and
/// that strike is not struck itself.
struct Journal {
  std::vector<Entry> entries;
  std::vector<bool> struck;
  std::string last_sum;        ///< checksum that the next line chains to; "" for an empty journal
  std::string torn;            ///< bytes after the last whole line (a power cut); not data
  bool needs_newline = false;  ///< the last whole line lacks only its line feed

  const Opening& opening() const { return *entries.front().opening; }
  /// The entries that count, strikes aside, in order.
  std::vector<const Entry*> valid() const;
};

/// Reads a whole job file. `schema` is job.schema.json. Throws InputError (data): "job:7: ..." for
/// a line that is not JSON, departs from the schema, breaks the numbering or the chain of
/// checksums, or strikes what cannot be struck.
Journal parse_journal(std::string_view text, const JsonSchema& schema, const std::string& file);

/// `entry` as a line with checksum and line feed, to follow a line whose checksum is `last_sum`.
std::string to_line(const Entry& entry, const std::string& last_sum);

/// Adds an entry read from a file. Throws InputError (data) for a broken numbering, a second
/// opening, or a strike of what cannot be struck.
void take(Journal& journal, Entry entry, const std::string& file);

/// The journal as it would read with the new `entry`: as `take`, but a strike of what cannot be
/// struck is a mistake of usage, a finished job takes only notes and strikes, and no text may be
/// longer than a reader takes: a job that could not be read again is never written.
Journal with_entry(Journal journal, const Entry& entry, const std::string& file);

}  // namespace tickover
