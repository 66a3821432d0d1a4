/// @file
/// What commands share: the knowledge, a job as it stands, and adding to it.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "cli/command.hpp"
#include "engine/diagnosis.hpp"
#include "engine/job/journal.hpp"
#include "engine/triage/language.hpp"
#include "engine/vet/exceptions.hpp"

namespace tickover::cli {

/// The text of knowledge/schema/NAME.schema.json.
std::string schema_text(const World& world, const std::string& name);

/// The pack's schema and files, read and checked.
pack::Pack load_pack(const World& world, const std::string& folder = {});

/// The exceptions that the pack in `folder` lists; none without such a file.
std::vector<vet::Exception> load_exceptions(const World& world, const std::string& folder);

/// How the pack in use (or in `folder`) reads riders' words; plain words without its file.
triage::Language load_language(const World& world, const std::string& folder = {});

/// A machine sheet by id (from the knowledge folder) or by path (a word with '/' or ending in
/// .json).
Machine load_machine_sheet(const World& world, const std::string& id_or_path);

/// A job file and all that follows from it.
struct Session {
  std::string path;
  std::size_t file_size = 0;
  Journal journal;
  std::unique_ptr<Diagnosis> diagnosis;
};

/// Reads a job; tells on `talk` of a torn line and of a pack other than the pinned one.
Session read_job(World& world, const std::string& path);

/// Adds `entry` to the job named by the argument JOB, under a lock: number and time are filled in,
/// it is checked against the model first, and the file is left untouched when it does not fit.
Session add_entry(World& world, const Words& words, Entry entry);

/// The argument JOB, an existing job file.
Positional job_argument();
/// --cyl, for what may hold at several cylinders.
Option cylinders_option();
/// `own`, then the options that every command which adds an entry has: --by, --minutes, --note.
std::vector<Option> with_entry_options(std::vector<Option> own);
/// "20" (minutes) or "1.5h" as minutes; throws InputError (usage) at `option` for anything else.
double parse_minutes(const std::string& option, const std::string& text);
/// The entry's common members from those options.
Entry entry_from_options(const Words& words, Event event);

/// "3", "2,3", "all" as cylinder numbers of the machine, or by the names of its sheet: "rear".
/// Throws InputError (usage).
std::vector<std::size_t> parse_cylinders(const std::string& text, const Machine& machine);

/// `command` as one that adds `entry` to a job and reports it.
Command adding(Command command, std::function<Entry(const Words&)> entry);

/// The last entry: what it says, of readings how they stand to their limits, what it takes the
/// place of, what is new since a repair.
std::string entry_in_words(const Session& session);
/// What an entry did, in one line, and where the job stands: printed after every entry.
int report_entry(World& world, const Words& words, const Session& session);

}  // namespace tickover::cli
