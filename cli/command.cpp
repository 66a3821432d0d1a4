#include "cli/command.hpp"

#include <fmt/format.h>

#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

std::string usage_line(const Command& command) {
  std::string line = "tickover " + command.name;
  for (const std::string& name : command.positional) {
    std::string shown = name;
    for (char& c : shown) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    line += " " + shown;
  }
  return line + " [options]";
}

std::string plain_name(std::string positional) {
  if (positional.ends_with("...")) positional.resize(positional.size() - 3);
  return positional;
}

cxxopts::Options options_of(const Command& command) {
  cxxopts::Options options("tickover " + command.name, command.summary);
  cxxopts::OptionAdder adder = options.add_options();
  command.options(adder);
  adder("h,help", "show this help")("json", "print the answer as JSON");
  std::vector<std::string> names;
  for (const std::string& positional : command.positional) {
    const std::string name = plain_name(positional);
    names.push_back(name);
    options.add_options("positional")(name, "",
                                      positional == name
                                          ? cxxopts::value<std::string>()
                                          : cxxopts::value<std::vector<std::string>>());
  }
  options.parse_positional(names);
  return options;
}

constexpr std::size_t kOptionColumns = 30;

/// "  -h, --help": how an option is written.
std::string option_label(const cxxopts::HelpOptionDetails& option) {
  return (option.s.empty() ? "      " : "  -" + option.s + ", ") + "--" + option.l.front() +
         (option.arg_help.empty() ? "" : " " + option.arg_help);
}

std::string option_lines(const Command& command) {
  const cxxopts::Options options = options_of(command);
  std::string text;
  for (const cxxopts::HelpOptionDetails& option : options.group_help("").options) {
    std::string label = option_label(option), help = option.desc;
    if (option.has_default && !option.is_boolean)
      help += " (default: " + option.default_value + ")";
    if (columns_of(label) + 2 > kOptionColumns) label += "\n" + std::string(kOptionColumns, ' ');
    text += labelled(label, help, kOptionColumns);
  }
  return text;
}

/// The help of a command that leaves its work to parts.
std::string parts_of(const Command& command) {
  std::string text = wrapped(command.summary, 0) + "\n  " + usage_line(command) + "\n\n";
  for (const Command& part : command.parts) text += labelled("  " + part.name, part.summary, 20);
  return text + "\n" +
         wrapped("'tickover " + command.parts.front().name + " --help' shows its options.", 0) +
         "\nExample\n  " + command.example + "\n";
}

std::string help_of(const Command& command) {
  if (!command.parts.empty()) return parts_of(command);
  std::string text = wrapped(command.summary, 0) + "\n  " + usage_line(command) + "\n\n";
  return text + option_lines(command) + "\nExample\n  " + command.example + "\n";
}

std::string overview() {
  std::string text = wrapped(
                         "tickover helps to find and mend what makes a carburetted engine run as "
                         "if it were lean: which "
                         "check to do next, what its result means, what is left.",
                         0) +
                     "\nCommands\n";
  for (const Command& command : commands())
    text += labelled("  " + command.name, command.summary, 11);
  return text + "\n" +
         wrapped(
             "'tickover COMMAND --help' tells more, with an example. Start with 'tickover list "
             "machines' and 'tickover open'.",
             0) +
         "\n" +
         wrapped(
             "The service manual of the machine, local rules and licensed practice come "
             "first.",
             0);
}

const Command& command_named(const std::vector<Command>& table, const std::string& name) {
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
  const Command* command = &command_named(commands(), words.front());
  words.erase(words.begin());
  const bool names_part = !command->parts.empty() && !words.empty() && words.front() != "--help" &&
                          words.front() != "-h";
  if (!names_part) return *command;
  command = &command_named(command->parts, command->name + " " + words.front());
  words.erase(words.begin());
  return *command;
}

std::vector<std::string> known_options(const Command& command) {
  const cxxopts::Options options = options_of(command);
  std::vector<std::string> known;
  for (const std::string& group : options.groups()) {
    for (const auto& option : options.group_help(group).options) {
      for (const std::string& name : option.l) known.push_back("--" + name);
    }
  }
  return known;
}

/// Refuses "--temperature --pressure 1bar", where one option was taken for the other's value.
void require_values(const Command& command, const cxxopts::ParseResult& parsed) {
  const std::vector<std::string> known = known_options(command);
  for (const auto& argument : parsed.arguments()) {
    const std::string name = argument.value().substr(0, argument.value().find('='));
    if (std::count(known.begin(), known.end(), name) == 0) continue;
    throw InputError(InputFault::usage, "--" + argument.key(), "its value is missing",
                     "'" + name + "' stands in its place");
  }
}

/// "--conplaint": the option of the command that was probably meant.
std::string nearest_option(const Command& command, const std::vector<std::string>& words) {
  const std::vector<std::string> known = known_options(command);
  for (const std::string& word : words) {
    const std::string name = word.substr(0, word.find('='));
    if (name.rfind("--", 0) != 0 || std::count(known.begin(), known.end(), name) > 0) continue;
    const std::string near = nearest(name, known);
    if (!near.empty()) return "nearest: " + near;
  }
  return "see 'tickover " + command.name + " --help'";
}

/// "-2mm": a dash and a number.
bool negative_value(const std::string& word) {
  return word.size() > 1 && word[0] == '-' && word[1] >= '0' && word[1] <= '9';
}

cxxopts::ParseResult parse(const Command& command, const std::vector<std::string>& words) {
  cxxopts::Options options = options_of(command);
  std::vector<const char*> argv = {"tickover"};
  std::vector<const char*> values;  // "-2mm" is no option; values stand last, so it may move there
  for (std::size_t i = 0; i < words.size(); ++i) {
    const bool of_option = i > 0 && words[i - 1].rfind("--", 0) == 0;
    (negative_value(words[i]) && !of_option ? values : argv).push_back(words[i].c_str());
  }
  if (!values.empty()) argv.push_back("--");
  argv.insert(argv.end(), values.begin(), values.end());
  try {
    cxxopts::ParseResult parsed = options.parse(static_cast<int>(argv.size()), argv.data());
    require_values(command, parsed);
    if (parsed.unmatched().empty()) return parsed;
    throw InputError(InputFault::usage, "",
                     "one word too many: '" + printable(parsed.unmatched().front()) + "'",
                     usage_line(command));
  } catch (const cxxopts::exceptions::exception& error) {
    throw InputError(InputFault::usage, "", printable(error.what()),
                     nearest_option(command, words));
  }
}

}  // namespace

const std::vector<Command>& commands() {
  static const std::vector<Command> table = {
      open_command(),    record_command(), next_command(),   causes_command(), why_command(),
      strip_command(),   refit_command(),  repair_command(), verify_command(), strike_command(),
      note_command(),    finish_command(), bench_command(),  sheet_command(),  list_command(),
      explain_command(), vet_command(),    calc_command()};
  return table;
}

std::string required(const cxxopts::ParseResult& parsed, const std::string& name) {
  const std::string value = optional(parsed, name);
  if (!value.empty()) return value;
  std::string shown = name;
  for (char& c : shown) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  throw InputError(InputFault::usage, "", shown + " is missing",
                   "--help shows how this command is used");
}

std::string optional(const cxxopts::ParseResult& parsed, const std::string& name) {
  return parsed.count(name) > 0 ? parsed[name].as<std::string>() : std::string();
}

std::vector<std::string> several(const cxxopts::ParseResult& parsed, const std::string& name) {
  return parsed.count(name) > 0 ? parsed[name].as<std::vector<std::string>>()
                                : std::vector<std::string>();
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
  const cxxopts::ParseResult parsed = parse(command, words);
  if (parsed.count("help") > 0) {
    world.out << help_of(command);
    return kDone;
  }
  return command.run(world, parsed);
}

}  // namespace tickover::cli
