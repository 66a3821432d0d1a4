#include "cli/session.hpp"

#include <algorithm>
#include <charconv>
#include <ostream>
#include <regex>

#include "cli/exit_status.hpp"
#include "cli/known_pack.hpp"
#include "cli/print.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/json_document.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"
#include "engine/pack/load.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kLargestKnowledgeFile = 8u << 20;
constexpr std::size_t kLargestSheet = 1u << 17;  // with room to spare in a line of a job
constexpr std::size_t kLargestJob = 16u << 20;

/// A file that a pack may have, which advice does not depend on: its text, and its place in errors.
std::pair<std::string, std::string> beside_pack(const World& world, const std::string& folder,
                                                const std::string& name) {
  const std::string from = folder.empty() ? world.knowledge + "/carburettor" : folder;
  const std::string place = (folder.empty() ? "carburettor" : folder) + "/" + name;
  if (!world.store.exists(from + "/" + name)) return {"", place};
  const std::string text = world.store.read(from + "/" + name, kLargestKnowledgeFile);
  return {text.empty() ? " " : text, place};  // an empty file is there, and no JSON
}

/// A torn line is kept beside the job before the next entry takes its place.
void set_aside_torn(World& world, const Session& session) {
  if (session.journal.torn.empty()) return;
  std::string aside;
  for (int i = 1; aside.empty() || world.store.exists(aside); ++i) {
    aside = session.path + ".torn-" + std::to_string(i);
  }
  world.store.create(aside, session.journal.torn);
  world.talk << "The torn last line is kept in " << printable(aside) << ".\n";
}

Session parse_job(World& world, const std::string& path) {
  Session session;
  session.path = path;
  const std::string text = world.store.read(path, kLargestJob);
  session.file_size = text.size();
  session.journal = parse_journal(text, JsonSchema(schema_text(world, "job")), path);
  return session;
}

void tell_of_torn(World& world, const Session& session) {
  if (session.journal.torn.empty()) return;
  world.talk << printable(session.path) << ": the last line is torn ("
             << session.journal.torn.size()
             << " bytes, as after a power cut); it is not taken for data\n";
}

void tell_of_other_pack(World& world, const Session& session, const pack::Pack& pack) {
  const Opening& opening = session.journal.opening();
  if (opening.pack_hash == pack.hash) return;
  world.talk << printable(session.path) << ": opened with pack " << opening.pack << " "
             << opening.pack_version << " (" << opening.pack_hash.substr(0, 12)
             << "); read now with " << pack.id << " " << pack.version << " ("
             << pack.hash.substr(0, 12) << "): advice may differ from what was given then\n";
}

/// A job names the risks of the pack it was opened with; today's may lack one.
void require_risks(const Session& session, const pack::Pack& pack) {
  for (const std::string& id : session.journal.opening().risks) {
    if (pack::find(pack.risks, id)) continue;
    throw unknown_name(InputFault::data, json_place(session.path + ":1", "/opening/risks"),
                       "risk factor", id, pack::ids_of(pack.risks));
  }
}

void diagnose(World& world, Session& session, bool last_is_new) {
  pack::Pack pack = load_pack(world);
  tell_of_other_pack(world, session, pack);
  require_risks(session, pack);
  session.diagnosis = std::make_unique<Diagnosis>(
      std::move(pack), session.journal, schema_text(world, "machine"), session.path, last_is_new);
}

}  // namespace

std::string schema_text(const World& world, const std::string& name) {
  return world.store.read(world.knowledge + "/schema/" + name + ".schema.json",
                          kLargestKnowledgeFile);
}

pack::Pack load_pack(const World& world, const std::string& folder) {
  const std::string from = folder.empty() ? world.knowledge + "/carburettor" : folder;
  pack::PackFiles files;
  for (const std::string& name : pack::file_names()) {
    if (!world.store.exists(from + "/" + name)) continue;
    files[name] = world.store.read(from + "/" + name, kLargestKnowledgeFile);
  }
  if (files.empty()) {
    throw InputError(InputFault::missing, from, "there is no knowledge pack in this folder",
                     "--knowledge or TICKOVER_KNOWLEDGE names the folder that holds 'carburettor'");
  }
  return pack::load(files, schema_text(world, "pack"), folder.empty() ? "carburettor" : folder,
                    known_pack());
}

std::vector<vet::Exception> load_exceptions(const World& world, const std::string& folder) {
  const auto [text, place] = beside_pack(world, folder, "exceptions.json");
  if (text.empty()) return {};
  return vet::load_exceptions(text, schema_text(world, "pack"), place);
}

triage::Language load_language(const World& world, const std::string& folder) {
  const auto [text, place] = beside_pack(world, folder, "language.json");
  if (text.empty()) return {};
  return triage::load_language(text, schema_text(world, "pack"), place);
}

Machine load_machine_sheet(const World& world, const std::string& id_or_path) {
  const bool is_path = id_or_path.find('/') != std::string::npos || id_or_path.ends_with(".json");
  const std::string folder = world.knowledge + "/machines";
  const std::string path = is_path ? id_or_path : folder + "/" + id_or_path + ".json";
  if (!is_path && !world.store.exists(path)) {
    std::vector<std::string> known;
    for (const std::string& name : world.store.names(folder, ".json")) {
      known.push_back(name.substr(0, name.size() - 5));
    }
    throw unknown_name(InputFault::usage, "", "machine", id_or_path, known);
  }
  return load_machine(world.store.read(path, kLargestSheet), schema_text(world, "machine"), path);
}

Session read_job(World& world, const std::string& path) {
  Session session = parse_job(world, path);
  tell_of_torn(world, session);
  diagnose(world, session, false);
  return session;
}

Session add_entry(World& world, const Words& words, Entry entry) {
  const std::string path = words.required("job");
  const std::shared_ptr<void> guard = world.store.lock(path);
  Session session = parse_job(world, path);
  tell_of_torn(world, session);
  if (words.has("cyl")) {
    const Machine machine =
        load_machine(session.journal.opening().sheet, schema_text(world, "machine"),
                     path + ":1#/opening/machine");
    entry.cylinders = parse_cylinders(words.text("cyl"), machine);
  }
  entry.number = session.journal.entries.size() + 1;
  entry.time = world.store.now();
  const std::string feed = session.journal.needs_newline ? "\n" : "";
  const std::string text = feed + to_line(entry, session.journal.last_sum);
  if (session.file_size + text.size() > kLargestJob) {
    throw InputError(InputFault::usage, path, "the job is full: a file of 16 MiB is the largest",
                     "open another job for what is still to do");
  }
  const std::size_t torn = session.journal.torn.size();
  session.journal = with_entry(std::move(session.journal), entry, path);
  diagnose(world, session, true);
  set_aside_torn(world, session);
  world.store.append(path, session.file_size, torn, text);
  return session;
}

Command adding(Command command, std::function<Entry(const Words&)> entry) {
  command.entry = entry;
  command.run = [entry](World& world, const Words& words) {
    return report_entry(world, words, add_entry(world, words, entry(words)));
  };
  return command;
}

Positional job_argument() { return {"job", "the job file", Names::job}; }

Option cylinders_option() {
  return {.name = "cyl",
          .help = "at which cylinders: 3, or 1,4, or all",
          .placeholder = "LIST",
          .names = Names::cylinders};
}

std::vector<Option> with_entry_options(std::vector<Option> own) {
  own.push_back({.name = "by", .help = "who did it", .placeholder = "NAME"});
  own.push_back({.name = "minutes",
                 .help = "how long it took: 20, in minutes, or with a unit: 1.5h, 1h30",
                 .placeholder = "TIME"});
  own.push_back({.name = "note", .help = "a remark, kept with the entry", .placeholder = "TEXT"});
  return own;
}

namespace {

/// Of "1h30", "1:30" or "1 h 30 min"; none for anything else.
std::optional<double> hours_and_minutes(const std::string& text) {
  static const std::regex form("\\s*([0-9]{1,3})\\s*(h|:)\\s*([0-5][0-9])\\s*(min|m)?\\s*");
  std::smatch found;
  if (!std::regex_match(text, found, form)) return std::nullopt;
  return 60 * std::stod(found[1]) + std::stod(found[3]);
}

}  // namespace

double parse_minutes(const std::string& option, const std::string& text) try {
  if (const std::optional<double> both = hours_and_minutes(text)) return *both;
  const double minutes = in_unit(parse_quantity_of(Dimension::time, text, "min"), "min");
  if (minutes >= 0 && minutes <= 100000) return minutes;
  throw InputError(InputFault::usage, "", shortest(minutes) + " cannot be",
                   "minutes from 0 to 100000");
} catch (const InputError& error) {
  throw InputError(InputFault::usage, option, error.rule(), error.hint());
}

Entry entry_from_options(const Words& words, Event event) {
  Entry entry;
  entry.event = event;
  entry.by = words.text("by");
  entry.note = words.text("note");
  if (words.has("minutes")) entry.minutes = parse_minutes("--minutes", words.text("minutes"));
  return entry;
}

namespace {

/// By its number, or by the name that the sheet gives it; 0 for neither.
std::size_t cylinder_named(const std::string& word, const Machine& machine) {
  std::size_t number = 0;
  const auto [stop, fault] = std::from_chars(word.data(), word.data() + word.size(), number);
  if (fault == std::errc() && stop == word.data() + word.size()) return number;
  for (std::size_t i = 0; i < machine.cylinders.size(); ++i) {
    if (lower_case(machine.cylinders[i]) == lower_case(word)) return i + 1;
  }
  return 0;
}

std::string without_blanks_around(const std::string& text) {
  const std::size_t begin = text.find_first_not_of(' ');
  if (begin == std::string::npos) return {};
  return text.substr(begin, text.find_last_not_of(' ') + 1 - begin);
}

/// One cylinder, or from one to another: "2-4". 0 for what is neither.
std::pair<std::size_t, std::size_t> cylinders_named(const std::string& word,
                                                    const Machine& machine) {
  const std::size_t number = cylinder_named(word, machine), dash = word.find('-');
  if (number > 0 || dash == std::string::npos) return {number, number};
  return {cylinder_named(without_blanks_around(word.substr(0, dash)), machine),
          cylinder_named(without_blanks_around(word.substr(dash + 1)), machine)};
}

}  // namespace

std::vector<std::size_t> parse_cylinders(const std::string& text, const Machine& machine) {
  std::vector<std::size_t> cylinders;
  if (text == "all") {
    for (std::size_t i = 1; i <= machine.cylinders.size(); ++i) cylinders.push_back(i);
    return cylinders;
  }
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find(',', begin), text.size());
    const auto [first, last] =
        cylinders_named(without_blanks_around(text.substr(begin, end - begin)), machine);
    if (first == 0 || last < first) {
      const std::string names = machine.cylinder_names();
      throw InputError(InputFault::usage, "",
                       "--cyl '" + printable(text) + "' is not a list of cylinders",
                       "for instance --cyl 3, --cyl 1,4, --cyl 2-4 or --cyl all" +
                           (names.empty() ? "" : "; here " + names));
    }
    if (last > machine.cylinders.size()) {
      throw InputError(InputFault::usage, "", "there is no cylinder " + std::to_string(last),
                       "this machine has " + std::to_string(machine.cylinders.size()));
    }
    for (std::size_t number = first; number <= last; ++number) cylinders.push_back(number);
    begin = end + 1;
  }
  std::sort(cylinders.begin(), cylinders.end());
  cylinders.erase(std::unique(cylinders.begin(), cylinders.end()), cylinders.end());
  return cylinders;
}

}  // namespace tickover::cli
