#include "cli/shell/manual.hpp"

#include "cli/command.hpp"
#include "cli/help.hpp"

namespace tickover::cli {
namespace {

/// Text that roff takes as it stands: no escape, no request, hyphens that can be copied.
std::string roff(const std::string& text) {
  std::string out;
  bool line_begins = true;
  for (const char c : text) {
    if (line_begins && (c == '.' || c == '\'')) out += "\\&";
    line_begins = c == '\n';
    if (c == '\\')
      out += "\\e";
    else if (c == '-')
      out += "\\-";
    else
      out += c;
  }
  return out;
}

std::string heading(const std::string& title) { return ".SH " + title + "\n"; }

std::string tagged(const std::string& label, const std::string& text) {
  return ".TP\n\\fB" + roff(label) + "\\fR\n" + roff(text) + "\n";
}

std::string option_text(const Option& option) {
  std::string label = option.letter == '\0' ? "" : std::string("-") + option.letter + ", ";
  label += "--" + option.name + (option.placeholder.empty() ? "" : " " + option.placeholder);
  std::string help = option.help;
  if (!option.choices.empty()) {
    help += " (one of:";
    for (const std::string& choice : option.choices) help += " " + choice;
    help += ")";
  }
  if (!option.usual.empty()) help += " (default: " + option.usual + ")";
  return tagged(label, help);
}

std::string command_text(const Command& command) {
  std::string out = ".SS \"" + roff(usage_line(command)) + "\"\n" + roff(command.summary) + "\n";
  for (const Positional& one : command.positional) out += tagged(in_capitals(one.name), one.help);
  for (const Option& option : command.options) out += option_text(option);
  out += ".PP\nExample:\n.PP\n.nf\n.RS\n" + roff(command.example) + "\n.RE\n.fi\n";
  for (const Command& part : command.parts) out += command_text(part);
  return out;
}

/// Options that every command has, told once.
std::string common_options() {
  const Command none;
  std::string out;
  for (const Option& option : all_options(none)) out += option_text(option);
  return out + tagged("--knowledge DIR", "the folder of packs, schemas and machine sheets");
}

std::string statuses() {
  return tagged("0", "done") +
         tagged("1", "the answer is no: vet found errors, the complaint is not cured") +
         tagged("2", "the command line or an answer is wrong") +
         tagged("65", "bad data in a file") + tagged("66", "a file that does not exist") +
         tagged("70", "a fault of the program") +
         tagged("73", "a file exists already or cannot be created") +
         tagged("74", "the disk refused") + tagged("75", "the job is in use");
}

}  // namespace

std::string manual_page(const std::string& version) {
  std::string out = ".TH TICKOVER 1 \"\" \"tickover " + version + "\" \"User Commands\"\n" +
                    heading("NAME") +
                    "tickover \\- find what makes a carburetted engine run as if it were lean\n" +
                    heading("SYNOPSIS") + "\\fBtickover\\fR COMMAND [ARGUMENTS] [OPTIONS]\n" +
                    heading("DESCRIPTION") + roff(description()) + "\n" + heading("OPTIONS") +
                    "Every command has these:\n" + common_options() + heading("COMMANDS");
  for (const Command& command : commands()) {
    if (!command.hidden) out += command_text(command);
  }
  return out + heading("EXIT STATUS") + statuses() + heading("ENVIRONMENT") +
         tagged("TICKOVER_KNOWLEDGE", "the folder of packs, as by --knowledge") +
         tagged("NO_COLOR", "changes nothing: no answer is coloured, on a terminal or off it") +
         tagged("SOURCE_DATE_EPOCH", "the time that new entries carry, in seconds since 1970") +
         heading("FILES") +
         "A job is a file of JSON lines, each with a checksum chained to the line before. Entries "
         "are only added. The shapes of all JSON answers are in the schemas of the knowledge "
         "folder.\n";
}

}  // namespace tickover::cli
