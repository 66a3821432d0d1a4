/// @file
/// Completion in shells and the manual page: both follow the table of commands, and shells take
/// what they are given.
#include "tests/support/shell.hpp"

#include <catch2/catch.hpp>

#include "cli/command.hpp"
#include "cli/parse.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/terminal.hpp"

namespace tickover::cli_shell_test {
namespace {

using Texts = std::vector<std::string>;
using Catch::Contains;

const std::string kProgram = TICKOVER_PROGRAM;
const std::string kKnowledge = std::string(TICKOVER_SOURCE) + "/knowledge";

class Bench {
 public:
  Bench() { run({"open", "twin.job", "--machine", "twin-parallel"}); }

  test::ProgramResult run(const Texts& words) const {
    return test::run_program({words, scratch_.folder(), kKnowledge, {}});
  }
  /// The words offered after `line`, whose last word is still being written.
  Texts offered(Texts line) const {
    line.insert(line.begin(), {"complete", "--"});
    Texts words;
    std::istringstream text(run(line).out);
    for (std::string one; std::getline(text, one);) words.push_back(one.substr(0, one.find('\t')));
    return words;
  }
  std::string folder() const { return scratch_.folder(); }

 private:
  test::Scratch scratch_;
};

/// The table's commands that do something, parts of commands included.
std::vector<cli::Command> leaves() {
  std::vector<cli::Command> all;
  for (const cli::Command& command : cli::commands()) {
    if (command.hidden) continue;
    if (command.parts.empty()) all.push_back(command);
    all.insert(all.end(), command.parts.begin(), command.parts.end());
  }
  return all;
}

Texts words_of(const std::string& name) {
  const std::size_t blank = name.find(' ');
  return blank == std::string::npos ? Texts{name}
                                    : Texts{name.substr(0, blank), name.substr(blank + 1)};
}

bool has(const Texts& words, const std::string& word) {
  return std::count(words.begin(), words.end(), word) == 1;
}

bool installed(const std::string& program) {
  return test::run_shell("command -v " + program).out != "";
}

}  // namespace

TEST_CASE("every command and option is offered to shells", "[cli][shell]") {
  const Bench bench;
  REQUIRE(leaves().size() > 25);
  for (const cli::Command& command : leaves()) {
    Texts line = words_of(command.name);
    CHECK(has(bench.offered(line), line.back()));
    line.push_back("--");
    const Texts offered = bench.offered(line);
    for (const cli::Option& option : cli::all_options(command)) {
      CAPTURE(command.name, option.name);
      CHECK(has(offered, "--" + option.name));
    }
    CHECK(offered.size() == cli::all_options(command).size());
  }
  CHECK_FALSE(has(bench.offered({""}), "complete"));
}

TEST_CASE("every command, argument and option is in the manual", "[cli][shell]") {
  std::string manual = Bench().run({"manual"}).out;
  manual.erase(std::remove(manual.begin(), manual.end(), '\\'), manual.end());
  for (const cli::Command& command : leaves()) {
    const std::size_t begin = manual.find(".SS \"tickover " + command.name + " ");
    CAPTURE(command.name);
    REQUIRE(begin != std::string::npos);
    const std::string told = manual.substr(begin, manual.find("Example:", begin) - begin);
    for (const cli::Option& option : command.options) {
      CAPTURE(option.name);
      CHECK_THAT(told, Contains("--" + option.name));
    }
    for (const cli::Positional& one : command.positional) {
      CHECK_THAT(told, Contains("fB" + cli::in_capitals(one.name)));
    }
  }
}

TEST_CASE("the manual page is sound to the formatter", "[cli][shell]") {
  if (!installed("groff")) return;
  const std::string told = test::run_shell("TICKOVER_KNOWLEDGE='" + kKnowledge + "' '" + kProgram +
                                           "' manual | groff -man -Tutf8 -ww -z 2>&1")
                               .out;
  CHECK(told == "");
}

TEST_CASE("ids are offered where they may stand, those of the job's machine", "[cli][shell]") {
  const Bench bench;
  CHECK(has(bench.offered({"next", "twin.job", "--against", ""}), "renew-intake-rubber"));
  const Texts observables = bench.offered({"record", "twin.job", ""});
  CHECK(has(observables, "rubber-check-off"));
  CHECK(has(observables, "speed-hangs"));
  CHECK(has(observables, "float-height"));
  CHECK(has(bench.offered({"record", "none.job", ""}), "vacuum-compare"));
  CHECK(has(bench.offered({"record", "twin.job", "rubber-check-off", "sp"}), "split"));
  CHECK(bench.offered({"record", "twin.job", "rubber-check-off", "--cyl", ""}) ==
        Texts{"1", "2", "all"});
  CHECK(has(bench.offered({"record", "twin.job", "rubber-check-off", "--cyl", "1,"}), "1,2"));
  CHECK(has(bench.offered({"why", "twin.job", "pilot-"}), "pilot-jet-blocked"));
  CHECK(has(bench.offered({"repair", "twin.job", "clean-"}), "clean-pilot"));
  CHECK(has(bench.offered({"strip", "twin.job", "bowls", "ta"}), "tank"));
  CHECK(has(bench.offered({"open", "x.job", "--machine", "six"}), "six-inline"));
  CHECK(has(bench.offered({"open", "x.job", "--risk", "old-rubber,long-"}),
            "old-rubber,long-storage"));
  CHECK(bench.offered({"sheet", "twin.job", "--for", "=", "r"}) == Texts{"rider"});
  CHECK(bench.offered({"sheet", "twin.job", "--html", ""}) == Texts{"@files"});
  CHECK(bench.offered({"vet", ""}) == Texts{"@folders"});
  CHECK(bench.offered({"no-such", ""}).empty());
  bench.run({"record", "twin.job", "speed-hangs", "clear"});
  CHECK(bench.offered({"strike", "twin.job", ""}) == Texts{"2"});
}

TEST_CASE("bash completes at its prompt", "[cli][shell][terminal]") {
  const Bench bench;
  test::Terminal bash({{"/bin/bash", "--norc", "--noprofile", "-i"},
                       bench.folder(),
                       {"PS1=ready> ", "TICKOVER_KNOWLEDGE=" + kKnowledge}});
  bash.until("ready> ");
  bash.type(
      "bind 'set enable-bracketed-paste off'; PATH=" + kProgram.substr(0, kProgram.rfind('/')) +
      ":$PATH; source <(tickover shell bash); echo so\"urced\"\r");
  bash.until("sourced");
  bash.until("ready> ");
  const std::vector<std::pair<std::string, std::string>> lines = {
      {"tickover rec", "ord "},
      {"tickover calc lam", "bda "},
      {"tickover record twin.job rubber-check-o", "ff "},
      {"tickover record twin.job rubber-check-off --cyl 2 sp", "lit "},
      {"tickover sheet tw", "in.job "},
      {"tickover sheet twin.job --for ri", "der "},
      {"tickover sheet twin.job --for=ri", "der "}};
  for (const auto& [begun, rest] : lines) {
    CAPTURE(begun);
    bash.type(begun);
    bash.until(begun);
    bash.type("\t");
    CHECK_NOTHROW(bash.until(rest));
    bash.type("\x15");  // takes the line away
  }
  bash.type("exit\r");
  CHECK(bash.wait() == 0);
}

TEST_CASE("zsh completes at its prompt", "[cli][shell][terminal]") {
  if (!installed("zsh")) return;
  const Bench bench;
  std::string path = test::run_shell("command -v zsh").out;
  path.erase(path.find_last_not_of('\n') + 1);
  test::Terminal zsh({{path, "-f", "-i"},
                      bench.folder(),
                      {"HOME=" + bench.folder(), "TICKOVER_KNOWLEDGE=" + kKnowledge}});
  zsh.type("PS1='re''ady> '; unsetopt zle_bracketed_paste; unset zle_bracketed_paste; PATH=" +
           kProgram.substr(0, kProgram.rfind('/')) +
           ":$PATH; autoload -U compinit; compinit -u -D; tickover shell zsh > _tickover.zsh; "
           "source ./_tickover.zsh; echo so\"urced\"\r");
  zsh.until("sourced");
  zsh.until("ready> ");
  const std::vector<std::pair<std::string, std::string>> lines = {
      {"tickover rec", "ord"},
      {"tickover calc lam", "bda"},
      {"tickover record twin.job rubber-check-o", "ff"},
      {"tickover record twin.job rubber-check-off --cyl 2 sp", "lit"},
      {"tickover sheet tw", "in.job"},
      {"tickover sheet twin.job --for ri", "der"}};
  for (const auto& [begun, rest] : lines) {
    CAPTURE(begun);
    // the line that completion makes is run by echo: how zsh redraws it is its own affair
    zsh.type(begun +
             "\t\x01"
             "echo got: \r");
    CHECK_NOTHROW(zsh.until("\ngot: " + begun + rest));
    zsh.until("ready> ");
  }
  zsh.type("exit\r");
  CHECK(zsh.wait() == 0);
}

TEST_CASE("zsh and fish take their scripts", "[cli][shell]") {
  for (const std::string shell : {"bash", "zsh", "fish"}) {
    if (!installed(shell)) continue;
    CAPTURE(shell);
    const test::Scratch scratch;
    scratch.write("script", Bench().run({"shell", shell}).out);
    CHECK(scratch.read("script").size() > 200);
    CHECK(test::run_shell(shell + " -n '" + scratch.path("script") + "' 2>&1").out == "");
  }
  if (!installed("fish")) return;
  const Bench bench;
  const std::string folder = kProgram.substr(0, kProgram.rfind('/'));
  const std::string line = "set -x PATH " + folder +
                           " $PATH; tickover shell fish | source; complete -C 'tickover record "
                           "twin.job rubber-check-o'";
  CHECK_THAT(test::run_shell("cd '" + bench.folder() + "' && TICKOVER_KNOWLEDGE='" + kKnowledge +
                             "' HOME=. fish -N -c \"" + line + "\"")
                 .out,
             Contains("rubber-check-off"));
  CHECK(Bench().run({"shell", "csh"}).status == 2);
}

TEST_CASE("examples name what is in the pack", "[cli][shell]") {
  const Bench bench;
  const std::string repairs = bench.run({"list", "repairs"}).out,
                    causes = bench.run({"list", "causes"}).out,
                    symptoms = bench.run({"list", "symptoms"}).out,
                    layers = bench.run({"list", "layers"}).out;
  const auto listed = [&](cli::Names names) -> const std::string* {
    return names == cli::Names::repair    ? &repairs
           : names == cli::Names::cause   ? &causes
           : names == cli::Names::symptom ? &symptoms
           : names == cli::Names::layer   ? &layers
                                          : nullptr;
  };
  std::size_t looked_up = 0;
  for (const cli::Command& command : leaves()) {
    if (!command.example.starts_with("tickover ")) continue;  // of another program
    std::string example = command.example.substr(0, command.example.find(" >"));
    std::replace(example.begin(), example.end(), '"', '\'');
    Texts line = test::words_of_line(example);
    std::erase_if(line, [](const std::string& word) { return word.find('\\') == 0; });
    line.erase(line.begin(), line.begin() + 1 + static_cast<int>(words_of(command.name).size()));
    const cli::Words words = cli::parse(command, line);
    const auto check = [&](const std::string& name, cli::Names names) {
      if (listed(names) == nullptr) return;
      for (const std::string& word : words.several(name)) {
        const std::string id = word.substr(0, word.find('@'));  // "pilot-jet-blocked@3"
        CAPTURE(command.name, id);
        CHECK_THAT("\n" + *listed(names), Contains("\n" + id + " "));
        ++looked_up;
      }
    };
    for (const cli::Option& option : command.options) check(option.name, option.names);
    for (const cli::Positional& one : command.positional) check(one.name, one.names);
  }
  CHECK(looked_up >= 5);
}

TEST_CASE("what is missing is told with an example", "[cli]") {
  const Bench bench;
  CHECK_THAT(bench.run({"why", "twin.job"}).err,
             Contains("CAUSE is missing") && Contains("for instance: tickover why "));
  CHECK_THAT(bench.run({"strike", "twin.job", "1"}).err,
             Contains("--reason is missing") && Contains("--reason \"wrong cylinder\""));
}

TEST_CASE("the version names the pack and its hash", "[cli]") {
  const auto told = Bench().run({"--version"});
  CHECK(told.status == 0);
  CHECK_THAT(told.out,
             Contains("tickover 0.") && Contains("pack carburettor ") && Contains(", hash "));
}

}  // namespace tickover::cli_shell_test
