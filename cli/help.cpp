#include "cli/help.hpp"

#include "cli/print.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kOptionColumns = 30;

/// "  -h, --help": how an option is written.
std::string option_label(const Option& option) {
  const std::string letter =
      option.letter == '\0' ? "      " : std::string("  -") + option.letter + ", ";
  return letter + "--" + option.name + (option.placeholder.empty() ? "" : " " + option.placeholder);
}

std::string option_lines(const Command& command) {
  std::string text;
  for (const Option& option : all_options(command)) {
    std::string label = option_label(option), help = option.help;
    if (!option.usual.empty()) help += " (default: " + option.usual + ")";
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

}  // namespace

std::string usage_line(const Command& command) {
  std::string line = "tickover " + command.name;
  for (const Positional& positional : command.positional) {
    line += " " + in_capitals(positional.name) + (positional.several ? "..." : "");
  }
  return line + " [options]";
}

std::string help_of(const Command& command) {
  if (!command.parts.empty()) return parts_of(command);
  std::string text = wrapped(command.summary, 0) + "\n  " + usage_line(command) + "\n\n";
  return text + option_lines(command) + "\nExample\n  " + command.example + "\n";
}

std::string description() {
  return "tickover helps to find and mend what makes a carburetted engine run as if it were lean: "
         "which check to do next, what its result means, what is left.";
}

std::string overview() {
  std::string text = wrapped(description(), 0) + "\nCommands\n";
  for (const Command& command : commands()) {
    if (!command.hidden) text += labelled("  " + command.name, command.summary, 11);
  }
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

}  // namespace tickover::cli
