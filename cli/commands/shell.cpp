#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/report.hpp"
#include "cli/shell/completion.hpp"
#include "cli/shell/manual.hpp"
#include "cli/shell/scripts.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

/// A text as it is, or as the one member of a report.
int print_text(World& world, const Words& words, const std::string& report,
               const std::string& text) {
  if (!words.has("json")) {
    world.out << text;
  } else {
    print_json(world.out, {{"report", report}, {"format", 1}, {"text", text}});
  }
  return kDone;
}

int run_shell(World& world, const Words& words) {
  const std::string shell = words.required("shell");
  const std::vector<std::string>& known = known_shells();
  if (std::find(known.begin(), known.end(), shell) == known.end()) {
    throw unknown_name(InputFault::usage, "", "shell", shell, known);
  }
  return print_text(world, words, "shell", completion_script(shell));
}

int run_complete(World& world, const Words& words) {
  const Completion found = complete(world, words.several("words"));
  std::string text;
  for (const Candidate& one : found.candidates) text += one.word + "\t" + one.help + "\n";
  if (found.paths == Paths::files) text += "@files\n";
  if (found.paths == Paths::folders) text += "@folders\n";
  return print_text(world, words, "complete", text);
}

}  // namespace

Command shell_command() {
  return {"shell",
          "Prints what makes a shell complete commands, options and ids, those of the open job "
          "included. An installed tickover has it in place.",
          {{.name = "shell", .help = "which shell", .choices = known_shells()}},
          "source <(tickover shell bash)",
          {},
          run_shell};
}

Command complete_command() {
  Command command = {"complete",
                     "Lists what may stand next on a command line: a word, a tab, what it is; "
                     "@files or @folders where paths may stand.",
                     {{.name = "words",
                       .help = "the line so far, without the program's name; the last word is "
                               "still being written",
                       .needed = false,
                       .several = true}},
                     "tickover complete -- record grey-four.job idle-",
                     {},
                     run_complete};
  command.hidden = true;
  return command;
}

Command manual_command() {
  return {"manual",
          "Prints the manual page. An installed tickover has it under 'man tickover'.",
          {},
          "tickover manual >tickover.1",
          {},
          [](World& world, const Words& words) {
            return print_text(world, words, "manual", manual_page(TICKOVER_VERSION));
          }};
}

}  // namespace tickover::cli
