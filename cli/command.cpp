#include "cli/command.hpp"

#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/help.hpp"
#include "cli/parse.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

const Command& named_in(const std::vector<Command>& table, const std::string& name) {
  std::vector<std::string> names;
  for (const Command& command : table) {
    if (command.name == name) return command;
    names.push_back(command.name);
  }
  throw unknown_name(InputFault::usage, "", "command", name, names);
}

/// The command named by the first word, or the part of it named by the first two. The words are
/// taken off.
const Command& take_command(std::vector<std::string>& words) {
  const Command* command = &command_named(words.front());
  words.erase(words.begin());
  const bool names_part = !command->parts.empty() && !words.empty() && words.front() != "--help" &&
                          words.front() != "-h";
  if (!names_part) return *command;
  command = &named_in(command->parts, command->name + " " + words.front());
  words.erase(words.begin());
  return *command;
}

}  // namespace

const std::vector<Command>& commands() {
  static const std::vector<Command> table = {
      open_command(),   triage_command(), record_command(), next_command(),   causes_command(),
      why_command(),    strip_command(),  refit_command(),  repair_command(), verify_command(),
      strike_command(), note_command(),   finish_command(), bench_command(),  sheet_command(),
      export_command(), work_command(),   review_command(), list_command(),   explain_command(),
      vet_command(),    calc_command(),   trial_command()};
  return table;
}

const Command& command_named(const std::string& name) { return named_in(commands(), name); }

std::vector<Option> all_options(const Command& command) {
  std::vector<Option> options = command.options;
  options.push_back({.name = "help", .help = "show this help", .kind = Kind::flag, .letter = 'h'});
  options.push_back({.name = "json", .help = "print the answer as JSON", .kind = Kind::flag});
  return options;
}

int dispatch(World& world, const std::vector<std::string>& arguments) {
  if (arguments.empty() || arguments.front() == "--help" || arguments.front() == "-h" ||
      arguments.front() == "help") {
    if (arguments.size() > 1) {
      std::vector<std::string> words(arguments.begin() + 1, arguments.end());
      world.out << help_of(take_command(words));
      return kDone;
    }
    (arguments.empty() ? world.talk : world.out) << overview();
    return arguments.empty() ? kUsage : kDone;
  }
  if (arguments.front() == "--version") {
    world.out << "tickover " << TICKOVER_VERSION << "\n";
    return kDone;
  }
  std::vector<std::string> words = arguments;
  const Command& command = take_command(words);
  if (!command.parts.empty()) {
    (words.empty() ? world.talk : world.out) << help_of(command);
    return words.empty() ? kUsage : kDone;
  }
  const Words given = parse(command, words);
  if (given.has("help")) {
    world.out << help_of(command);
    return kDone;
  }
  return command.run(world, given);
}

}  // namespace tickover::cli
