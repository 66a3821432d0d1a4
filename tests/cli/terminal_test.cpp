/// @file
/// Guided work at a pseudo-terminal, as a mechanic has it: a whole job from nothing, slips, going
/// back, leaving and coming back, and an interrupt at every prompt.
#include "tests/support/terminal.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/support/json_text.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::cli_terminal_test {
namespace {

using Texts = std::vector<std::string>;

const std::string kKnowledge = std::string(TICKOVER_SOURCE) + "/knowledge";

/// What is typed to open a job of an invented twin and to do it, from the first prompt to the last.
const Texts& whole_job() {
  static const Texts lines = {"twin-parallel",
                              "old-rubber",
                              "revs hang after a blip",
                              "clear",
                              "none all",
                              "other renew-intake-rubber",
                              "done 2",
                              "other verify",
                              "gone",
                              "intake-rubber-cracked"};
  return lines;
}

class Workshop {
 public:
  std::unique_ptr<test::Terminal> sit_down(unsigned short columns = 80) const {
    return std::make_unique<test::Terminal>(
        test::TerminalRun{{TICKOVER_PROGRAM, "work", "new.job"},
                          scratch_.folder(),
                          {"TICKOVER_KNOWLEDGE=" + kKnowledge, "SOURCE_DATE_EPOCH=1772442000"},
                          columns});
  }

  /// Types line after line, each once its prompt stands there; from the one after `first` to before
  /// `last` of the whole job.
  void type(test::Terminal& terminal, std::size_t first, std::size_t last) const {
    for (std::size_t i = first; i < last; ++i) {
      terminal.until("\n> ");
      terminal.type(whole_job()[i] + "\r");
    }
  }

  bool has_job() const { return scratch_.files().count("new.job") > 0; }
  std::string job() const { return scratch_.read("new.job"); }

  /// Lines of the job without what differs by the hour: none does, the clock is fixed.
  Texts entries() const {
    Texts found;
    std::istringstream text(job());
    for (std::string line; std::getline(text, line);) found.push_back(line);
    return found;
  }

  /// True when the program reads the job without a word of complaint.
  bool reads_well() const {
    const auto result =
        test::run_program({{"causes", "new.job", "--json"}, scratch_.folder(), kKnowledge, {}});
    return result.status == 0 && result.err.empty();
  }

 private:
  test::Scratch scratch_;
};

/// The job as one sitting makes it.
const Texts& in_one_sitting() {
  static const Texts entries = [] {
    const Workshop workshop;
    const auto terminal = workshop.sit_down();
    workshop.type(*terminal, 0, whole_job().size());
    terminal->until("The job is finished.");
    CHECK(terminal->wait() == 0);
    return workshop.entries();
  }();
  return entries;
}

}  // namespace

TEST_CASE("a job goes from nothing to its end at a terminal", "[cli][work][terminal]") {
  CHECK(in_one_sitting().size() == 6);
  CHECK(in_one_sitting().front().find("revs hang after a blip") != std::string::npos);
  CHECK(in_one_sitting().back().find("intake-rubber-cracked") != std::string::npos);
}

TEST_CASE("whoever leaves at any prompt finds the same place again", "[cli][work][terminal]") {
  for (std::size_t left_at = 4; left_at < whole_job().size(); left_at += 3) {
    CAPTURE(left_at);
    const Workshop workshop;
    const auto first = workshop.sit_down();
    workshop.type(*first, 0, left_at);
    first->until("\n> ");
    first->type("quit\r");
    CHECK(first->wait() == 0);
    const auto second = workshop.sit_down();
    // what was chosen with 'other' is of the sitting, not of the job
    const bool chosen = whole_job()[left_at - 1].starts_with("other");
    workshop.type(*second, chosen ? left_at - 1 : left_at, whole_job().size());
    second->until("The job is finished.");
    CHECK(second->wait() == 0);
    CHECK(workshop.entries() == in_one_sitting());
  }
}

TEST_CASE("an interrupt at any prompt loses nothing and writes nothing", "[cli][work][terminal]") {
  const Workshop workshop;
  const Texts whole = in_one_sitting();
  for (std::size_t at = 0; at < whole_job().size(); ++at) {
    CAPTURE(at);
    const auto terminal = workshop.sit_down();
    // the sitting before was cut off at the prompt that followed line at - 2; what was chosen with
    // 'other' is of a sitting
    const std::size_t again = at > 3 && whole_job()[at - 2].starts_with("other") ? 2 : 1;
    workshop.type(*terminal, at <= 3 ? 0 : at - again, at);
    terminal->until("\n> ");
    const std::string before = workshop.has_job() ? workshop.job() : "";
    terminal->type("gone is half a wo");
    terminal->type("\x03");
    CHECK(terminal->wait() == 128 + 2);
    CHECK((workshop.has_job() ? workshop.job() : "") == before);
    CHECK(workshop.has_job() == (at >= 3));
  }
  CHECK(workshop.reads_well());
  const Texts entries = workshop.entries();
  CHECK(entries == Texts(whole.begin(), whole.end() - 1));
}

TEST_CASE("nothing is opened before the last of its questions", "[cli][work][terminal]") {
  const Workshop workshop;
  const auto terminal = workshop.sit_down();
  terminal->until("\n> ");
  terminal->type("no-such-machine\r");
  terminal->until("Not taken: no machine named 'no-such-machine'");
  terminal->type("twin\r");
  terminal->until("'twin' may mean several");
  terminal->type("99\r");
  terminal->until("the list goes from 1 to 8");
  terminal->type("3\r");
  terminal->until("What of this holds");
  terminal->type("99\r");
  terminal->until("the list goes from 1 to ");
  terminal->type("old-rubbr\r");
  terminal->until("nearest: old-rubber");
  terminal->type("back\r");
  terminal->until("Which machine?");
  terminal->type("twin-parallel\r");
  terminal->until("What of this holds");
  terminal->type("1,3 long-storage\r");
  terminal->until("What does the rider say?");
  terminal->type("quit\r");
  terminal->until("nothing was written");
  CHECK(terminal->wait() == 0);
  CHECK_FALSE(workshop.has_job());
}

TEST_CASE("a line can be edited, and an earlier one called back", "[cli][work][terminal]") {
  const Workshop workshop;
  const auto terminal = workshop.sit_down();
  workshop.type(*terminal, 0, 3);
  terminal->until("\n> ");
  terminal->type("cleer\r");
  terminal->until("Not recorded: 'cleer' is no answer");
  terminal->until("\n> ");
  terminal->type(
      "\x1b[A\x7f\x7f"
      "ar\r");  // up, two letters off, two others
  terminal->until("Entry 2: speed-hangs: clear");
  terminal->until("\n> ");
  terminal->type("\x04");
  CHECK(terminal->wait() == 0);
  CHECK(workshop.entries().size() == 2);
}

TEST_CASE("no more is told at once than the terminal shows", "[cli][work][terminal]") {
  const Workshop workshop;
  const auto terminal = workshop.sit_down();
  workshop.type(*terminal, 0, 4);
  terminal->until("\n> ");
  terminal->type("other renew-intake-rubber\r");
  std::string told = terminal->until("\n> ");
  CHECK(told.find("Take care") != std::string::npos);
  std::size_t screens = 1;
  for (; told.find("Enter shows what follows.") != std::string::npos; ++screens) {
    CHECK(std::count(told.begin(), told.end(), '\n') < 24);
    terminal->type("\r");
    told = terminal->until("\n> ");
  }
  CHECK(screens > 1);
  CHECK(told.find("Done?") != std::string::npos);
  // whoever knows the step answers at once
  terminal->type("again\r");
  CHECK(terminal->until("\n> ").find("Enter shows what follows.") != std::string::npos);
  terminal->type("done 2\r");
  terminal->until("Entry 3: repaired: renew-intake-rubber, cyl 2");
  terminal->until("\n> ");
  terminal->type("\x04");
  CHECK(terminal->wait() == 0);
}

TEST_CASE("nothing is coloured, with and without NO_COLOR", "[cli][work][terminal]") {
  for (const Texts& more : {Texts{}, Texts{"NO_COLOR=1"}, Texts{"NO_COLOR="}}) {
    const test::Scratch scratch;
    Texts environment = {"TICKOVER_KNOWLEDGE=" + kKnowledge, "SOURCE_DATE_EPOCH=1772442000"};
    environment.insert(environment.end(), more.begin(), more.end());
    // a command that only tells writes no control sequence at all
    test::Terminal opening({{TICKOVER_PROGRAM, "open", "new.job", "--machine", "twin-parallel"},
                            scratch.folder(),
                            environment});
    const std::string opened = opening.until("Opened new.job");
    CHECK(opened.find('\x1b') == std::string::npos);
    CHECK(opening.wait() == 0);
    // guided work leaves them to the line editor, which has none for colour
    test::Terminal work({{TICKOVER_PROGRAM, "work", "new.job"}, scratch.folder(), environment});
    const std::string told = work.until("\n> ");
    CHECK(told.find('\x1b') == std::string::npos);
    work.type("pops on the over-run\rclear\r");
    std::string answered = work.until("Entry 3");
    work.type("quit\r");
    answered += work.until("goes on here.");
    CHECK(work.wait() == 0);
    for (std::size_t at = answered.find("\x1b["); at != std::string::npos;
         at = answered.find("\x1b[", at + 1)) {
      const std::size_t end = answered.find_first_not_of("0123456789;", at + 2);
      CAPTURE(answered.substr(at, 12));
      CHECK((end == std::string::npos || answered[end] != 'm'));
    }
  }
}

TEST_CASE("text keeps to the width of its terminal", "[cli][terminal]") {
  for (const unsigned short columns : std::vector<unsigned short>{40, 60, 100}) {
    const Workshop workshop;
    const auto terminal = workshop.sit_down(columns);
    std::istringstream shown(terminal->until("\n> "));
    std::size_t widest = 0;
    for (std::string line; std::getline(shown, line);) widest = std::max(widest, line.size());
    CAPTURE(columns, widest);
    CHECK(widest <= columns + 1u);  // a carriage return ends each line
    CHECK(widest > columns - 16u);
  }
}

}  // namespace tickover::cli_terminal_test
