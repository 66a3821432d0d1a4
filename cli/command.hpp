/// @file
/// The table of commands, and what each is given.
#pragma once

#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "cli/option.hpp"
#include "cli/words.hpp"
#include "engine/job/journal.hpp"
#include "engine/store/store.hpp"

namespace tickover::cli {

/// Where a person answers, line by line.
class Answers {
 public:
  virtual ~Answers() = default;
  /// Asks with `prompt` and waits for Enter. The line without its end; none at the end of input.
  virtual std::optional<std::string> line(const std::string& prompt) = 0;
  /// How many lines whoever answers sees at once; none where what is past can be read again.
  virtual std::optional<std::size_t> rows() const { return std::nullopt; }
};

/// The world outside, as a command may see it.
struct World {
  Store& store;
  std::ostream& out;           ///< results
  std::ostream& talk;          ///< everything else
  std::string knowledge;       ///< the folder of packs, schemas and machine sheets
  Answers* answers = nullptr;  ///< none: nobody is there to be asked
};

/// One command of the table. A command of several parts ("calc air") leaves options and running to
/// them.
struct Command {
  std::string name;
  std::string summary;
  std::vector<Positional> positional;
  std::string example;
  std::vector<Option> options;
  std::function<int(World&, const Words&)> run;
  std::vector<Command> parts = {};
  /// Commands that add an entry to a job: the entry, before it has number and time.
  std::function<Entry(const Words&)> entry = nullptr;
  bool hidden = false;  ///< for programs, not told of in the help
};

const std::vector<Command>& commands();

/// The command's own options and those that every command has, in the order of the help.
std::vector<Option> all_options(const Command& command);

/// The command of that name. Throws InputError (usage) with the nearest name.
const Command& command_named(const std::string& name);

/// Finds, parses, runs. `arguments` are the words after the program's name.
int dispatch(World& world, const std::vector<std::string>& arguments);

// One file each in cli/commands/; calc in cli/calc/.
Command open_command();
Command record_command();
Command next_command();
Command causes_command();
Command why_command();
Command strip_command();
Command refit_command();
Command repair_command();
Command verify_command();
Command strike_command();
Command note_command();
Command finish_command();
Command list_command();
Command explain_command();
Command bench_command();
Command sheet_command();
Command export_command();
Command triage_command();
Command vet_command();
Command work_command();
Command review_command();
Command calc_command();
Command trial_command();
Command shell_command();
Command complete_command();
Command manual_command();

}  // namespace tickover::cli
