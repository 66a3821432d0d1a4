/// @file
/// Guided work, fed line by line.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/answers.hpp"
#include "cli/sitting/guide.hpp"
#include "cli/sitting/prompt_words.hpp"
#include "cli/sitting/screens.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/typed.hpp"

namespace tickover::cli_work_test {
namespace {

using Catch::Contains;
using Texts = std::vector<std::string>;

/// A job of an invented twin with a complaint, and what is typed at it.
class Sittings {
 public:
  Sittings() {
    tell({"open", job(), "--machine", "twin-parallel", "--risk", "old-rubber", "--complaint",
          "revs hang after a blip"});
  }

  std::string job() const { return scratch_.path("twin.job"); }
  std::string journal() const { return scratch_.read("twin.job"); }

  std::string tell(const Texts& words, const std::string& typed = "") {
    return test::told(words, typed);
  }

  /// One sitting; each line with its Enter.
  std::string work(const Texts& lines) {
    std::string typed;
    for (const std::string& line : lines) typed += line + "\n";
    return tell({"work", job()}, typed);
  }

  /// The entries without time and checksum.
  std::vector<std::string> entries() const {
    std::vector<std::string> found;
    std::istringstream in(journal());
    for (std::string line; std::getline(in, line);) {
      nlohmann::json entry = test::json_of(line);
      entry.erase("time");
      entry.erase("sum");
      found.push_back(test::text_of(entry));
    }
    return found;
  }

 private:
  test::Scratch scratch_;
};

/// From the first symptom to the finished job, without anything that a sitting alone remembers.
const Texts& whole_job() {
  static const Texts lines = {"clear",
                              "other water-mist",
                              "none",
                              "none",
                              "other unlit-gas",
                              "none",
                              "clear",
                              "other renew-intake-rubber",
                              "done 2",
                              "other verify",
                              "still",
                              "other tighten-clamp",
                              "done",
                              "other verify",
                              "gone",
                              "intake-rubber-cracked"};
  return lines;
}

}  // namespace

TEST_CASE("a whole job can be done in guided work", "[cli][work]") {
  Sittings sittings;
  const std::string told = sittings.work(whole_job());
  CHECK_THAT(told, Contains("The job is finished."));
  CHECK_THAT(told, !Contains("Not recorded"));
  CHECK(sittings.entries().size() == 11);
  CHECK_THAT(sittings.entries().back(), Contains("intake-rubber-cracked"));
}

TEST_CASE("who leaves and comes back stands at the same place", "[cli][work]") {
  Sittings once;
  once.work(whole_job());
  for (const std::ptrdiff_t left_after : {1, 4, 7, 9, 11, 16}) {
    CAPTURE(left_after);
    const Texts& lines = whole_job();
    Sittings twice;
    twice.work({lines.begin(), lines.begin() + left_after});
    twice.work({lines.begin() + left_after, lines.end()});
    CHECK(twice.entries() == once.entries());
  }
}

TEST_CASE("nothing is recorded before its Enter", "[cli][work]") {
  Sittings sittings;
  const std::string before = sittings.journal();
  sittings.tell({"work", sittings.job()}, "clear");
  CHECK(sittings.journal() == before);
  sittings.tell({"work", sittings.job()}, "");
  CHECK(sittings.journal() == before);
}

TEST_CASE("a slip of the pen is explained, asked again, and changes nothing", "[cli][work]") {
  Sittings sittings;
  const std::string before = sittings.journal();
  const std::string told =
      sittings.work({"cleer", "7", "clear --minuts 4", "all", "done", "unsur", "other no-such",
                     "strip no-such", "why no-such", "\x1b[2J", "note", ""});
  CHECK(sittings.journal() == before);
  CHECK_THAT(told, Contains("'cleer' is no answer to 'speed-hangs'"));
  CHECK_THAT(told, Contains("answers: none, slight or clear, or unsure"));
  CHECK_THAT(told, !Contains("\x1b"));
}

TEST_CASE("back strikes out what was just recorded, and asks again", "[cli][work]") {
  Sittings sittings;
  const std::string told = sittings.work({"slight", "back", "clear", "back", "back"});
  CHECK(sittings.entries().size() == 5);
  CHECK_THAT(told, Contains("Entry 3: struck out: entry 2 (taken back at once)"));
  CHECK_THAT(told, Contains("Entry 5: struck out: entry 4 (taken back at once)"));
  CHECK_THAT(told, Contains("Nothing was done in this sitting that could be taken back"));
}

TEST_CASE("skip leaves something out, and back takes that back too", "[cli][work]") {
  Sittings sittings;
  const std::string told = sittings.work({"clear", "skip", "back", "quit"});
  CHECK(sittings.entries().size() == 2);
  const std::size_t skipped = told.find("Skipped in this sitting: "),
                    again = told.find("No longer skipped: ");
  REQUIRE(skipped != std::string::npos);
  REQUIRE(again != std::string::npos);
  const auto question_after = [&](std::size_t at) {
    const std::size_t begin = told.find("Next  ", at);
    return told.substr(begin, told.find('\n', begin) - begin);
  };
  CHECK(question_after(told.find("Entry 2")) == question_after(again));
  CHECK(question_after(skipped) != question_after(again));
}

TEST_CASE("values are taken with their unit, all places at once with all", "[cli][work]") {
  Sittings sittings;
  const std::string told =
      sittings.work({"clear", "other compression-test", "1180", "1180 kPa all", "quit"});
  CHECK_THAT(told, Contains("Not recorded"));
  CHECK_THAT(sittings.entries().back(), Contains("\"cylinders\":[1,2]"));
  CHECK_THAT(sittings.entries().back(), Contains("1180 kPa"));
}

TEST_CASE("the rider's words are kept and lead to questions", "[cli][work]") {
  Sittings sittings;
  const std::string told =
      sittings.work({"none", "x", "=cmd()<b>", "it pops on the over-run", "clear", "quit"});
  CHECK_THAT(told, Contains("no symptom goes by these words"));
  CHECK_THAT(told, Contains("overrun-popping: clear"));
  CHECK_THAT(sittings.journal(), Contains("rider: it pops on the over-run"));
}

TEST_CASE("cautions stand before the steps of every check and repair", "[cli][work]") {
  Sittings sittings;
  Texts lines;
  const pack::Pack pack = [&] {
    std::istringstream in;
    std::ostringstream out;
    const std::unique_ptr<Store> store = disk_store();
    const cli::World world{*store, out, out, std::string(TICKOVER_SOURCE) + "/knowledge", nullptr};
    return cli::load_pack(world);
  }();
  for (const pack::Check& check : pack.checks) lines.push_back("other " + check.id);
  for (const pack::Repair& repair : pack.repairs) lines.push_back("other " + repair.id);
  const std::string told = sittings.work(lines);
  std::size_t with_cautions = 0;
  for (std::size_t begin = told.find("\n> other "); begin != std::string::npos;) {
    const std::size_t end = told.find("\n> other ", begin + 1);
    const std::string step = told.substr(begin, end - begin);
    CAPTURE(step);
    const std::size_t care = step.find("\nTake care\n"), how = step.find("\nHow\n");
    if (care != std::string::npos) ++with_cautions;
    if (care != std::string::npos && how != std::string::npos) CHECK(care < how);
    begin = end;
  }
  CHECK(with_cautions > 80);
}

TEST_CASE("a finding that a check makes is done by that check, cautions first", "[cli][work]") {
  Sittings sittings;
  // a reading, an exhaust sample, an inspection, a response
  for (const std::string finding : {"compression", "float-height", "pilot-jet-look", "unlit-gas"}) {
    CAPTURE(finding);
    const std::string told = sittings.work({"other " + finding, "quit"});
    const std::string step = told.substr(told.find("> other "));
    CHECK_THAT(step, Contains("\nTake care\n") && Contains("\nHow\n") && Contains("You chose it."));
    CHECK_THAT(step, !Contains("Ask the rider"));
  }
}

TEST_CASE("a repair that the course comes to was not chosen by hand", "[cli][work]") {
  Sittings sittings;
  Texts typed = {"clear"};
  typed.insert(typed.end(), 100, "skip");
  const std::string told = sittings.work(typed);
  REQUIRE_THAT(told, Contains("Next  Repair: "));
  CHECK_THAT(told, !Contains("You chose it."));
  CHECK_THAT(told, Contains("It is a step of"));
}

TEST_CASE("a question chosen instead of the advised one is a question all the same",
          "[cli][work]") {
  Sittings sittings;
  sittings.work({"clear", "other overrun-popping", "clear", "quit"});
  CHECK_THAT(sittings.entries().back(), Contains("\"asked\":true"));
}

TEST_CASE("work is found by words of its name, and several are told apart", "[cli][work]") {
  Sittings sittings;
  const std::string told =
      sittings.work({"clear", "other pilot jets light", "back", "other rubber", "other",
                     "renew intake rubber", "back", "strip float bowls", "why pilot passage"});
  CHECK_THAT(told, Contains("Pilot jets and passages, light and air"));
  CHECK_THAT(told, Contains("'rubber' may mean several"));
  CHECK_THAT(told, Contains("Next  Repair: Renew the intake rubber"));
  CHECK_THAT(told, Contains("strip: bowls"));
  const std::size_t stripped = told.find("strip: bowls");
  CHECK(told.find("Take care", stripped) < told.find("Next  ", stripped));
  CHECK_THAT(told, Contains("Before the complaint") || Contains("may mean several"));
}

TEST_CASE("an answer may say where, and is one answer", "[cli][work]") {
  Sittings sittings;
  const std::string told = sittings.work(
      {"clear", "other unlit-gas", "1 clear", "clear 7", "clear 2", "none --cyl 1", "quit"});
  CHECK_THAT(told, Contains("'1 clear' is more than one answer"));
  CHECK_THAT(told, Contains("there is no cylinder 7"));
  const Texts entries = sittings.entries();
  REQUIRE(entries.size() == 4);
  CHECK_THAT(entries[2], Contains("\"cylinders\":[2]") && Contains("\"clear\""));
  CHECK_THAT(entries[3], Contains("\"cylinders\":[1]") && Contains("\"none\""));
}

TEST_CASE("a value may say where too, once its unit has been said", "[cli][work]") {
  Sittings sittings;
  const std::string told =
      sittings.work({"clear", "other compression-test", "1180kPa 2", "1150 kPa 1",
                     "other compression-test", "1180 1", "quit"});
  CHECK_THAT(told, Contains("'1180 1'") || Contains("no unit"));  // which number is meant?
  const Texts entries = sittings.entries();
  REQUIRE(entries.size() == 4);
  CHECK_THAT(entries[2], Contains("\"cylinders\":[2]") && Contains("\"1180kPa\""));
  CHECK_THAT(entries[3], Contains("\"cylinders\":[1]") && Contains("\"1150 kPa\""));
}

TEST_CASE("what is named just so is meant, whatever else holds the words", "[cli][work]") {
  Sittings sittings;
  CHECK_THAT(sittings.work({"clear", "other set the float", "quit"}),
             Contains("Repair: Set the float"));
  CHECK_THAT(sittings.work({"other set float", "quit"}), Contains("Repair: Set the float"));
}

TEST_CASE("back within something chosen takes back its last entry first", "[cli][work]") {
  Sittings sittings;
  const std::string told =
      sittings.work({"clear", "other unlit-gas", "none", "back", "clear", "quit"});
  const Texts entries = sittings.entries();
  REQUIRE(entries.size() == 5);
  CHECK_THAT(entries[3], Contains("strike"));
  CHECK_THAT(entries[4], Contains("\"cylinders\":[1]") && Contains("\"clear\""));
}

TEST_CASE("what was chosen ends with its last place, and can be done once more", "[cli][work]") {
  Sittings sittings;
  const std::string told = sittings.work({"clear", "other unlit-gas", "clear 2", "none 1",
                                          "other unlit-gas", "slight", "none 2", "quit"});
  const Texts entries = sittings.entries();
  REQUIRE(entries.size() == 6);
  CHECK_THAT(entries[4], Contains("\"cylinders\":[1]") && Contains("slight"));
  CHECK_THAT(entries[5], Contains("\"cylinders\":[2]") && Contains("none"));
  for (const std::string last : {"Entry 4", "Entry 6"}) {  // and then it goes on as advised
    const std::string after = told.substr(told.find(last));
    CHECK(after.find("Next  ") < after.find("Unlit gas led"));
  }
}

TEST_CASE("a repair chosen by hand leaves out what was seen sound", "[cli][work]") {
  Sittings sittings;
  const std::string told = sittings.work({"clear", "other rubber-check-off", "sound 1", "split",
                                          "other renew-intake-rubber", "done", "quit"});
  CHECK_THAT(told, Contains("Repair: Renew the intake rubber, cylinder 2"));
  CHECK_THAT(sittings.entries().back(), Contains("\"cylinders\":[2]"));
}

TEST_CASE("the standing of causes is told again only when it has changed", "[cli][work]") {
  Sittings sittings;
  const std::string told = sittings.work({"clear", "skip", "back", "quit"});
  const std::size_t first = told.find("Now most probable");
  REQUIRE(first != std::string::npos);
  CHECK(told.find("Now most probable", first + 1) == std::string::npos);
}

TEST_CASE("the road test and the end can be asked for at any prompt", "[cli][work]") {
  Sittings sittings;
  const std::string told = sittings.work({"clear", "verify", "back", "finish", "back", "quit"});
  CHECK(told.find("Close up, run it and road test") != std::string::npos);
  CHECK(told.find("Not recorded") == std::string::npos);
}

TEST_CASE("long texts are cut into screens at empty lines", "[cli][work]") {
  const std::string text = "1\n2\n\n4\n5\n6\n\n8\n9";
  CHECK(cli::screens(text, 9) == Texts{text});
  CHECK(cli::screens(text, 5) == Texts{"1\n2\n\n", "4\n5\n6\n\n", "8\n9"});
  CHECK(cli::screens(text, 2) == Texts{"1\n2\n", "\n4\n", "5\n6\n", "\n8\n", "9"});
  CHECK(cli::screens("", 5).empty());
}

TEST_CASE("no answer of the pack is a word of the prompt", "[cli][work]") {
  const Texts words = cli::words_at_every_prompt();
  CHECK(words.size() > 10);
  std::ostringstream out;
  const std::unique_ptr<Store> store = disk_store();
  const cli::World world{*store, out, out, std::string(TICKOVER_SOURCE) + "/knowledge", nullptr};
  for (const pack::Finding& finding : cli::load_pack(world).findings) {
    Texts answers = finding.levels;
    for (const pack::Outcome& outcome : finding.outcomes) answers.push_back(outcome.id);
    for (const std::string& answer : answers) {
      CAPTURE(finding.id, answer);
      if (answer != "unsure") CHECK(std::count(words.begin(), words.end(), answer) == 0);
      CHECK(answer != "all");
    }
  }
}

TEST_CASE("a choice is known by number, word, or the beginning of it", "[cli][work]") {
  const std::vector<cli::Choice> choices = {{"sound", ""}, {"split", ""}, {"surface-cracks", ""}};
  CHECK(cli::chosen_word(choices, "2") == "split");
  CHECK(cli::chosen_word(choices, "split") == "split");
  CHECK(cli::chosen_word(choices, "su") == "surface-cracks");
  CHECK(cli::chosen_word(choices, "s") == "s");
  CHECK(cli::chosen_word(choices, "4") == "4");
  const std::vector<cli::Choice> graded = {{"none", ""}, {"slight", ""}, {"clear", ""}},
                                 plain = {{"no", ""}, {"yes", ""}},
                                 drops = {{"normal-drop", ""}, {"small-drop", ""}, {"no-drop", ""}};
  for (const std::string no : {"n", "no", "none"}) {
    CHECK(cli::chosen_word(graded, no) == "none");
    CHECK(cli::chosen_word(plain, no) == "no");
    CHECK(cli::chosen_word(drops, no) == no);  // no drop, or nothing out of order?
  }
  CHECK(cli::chosen_word(plain, "y") == "yes");
  CHECK(cli::chosen_word(graded, "y") == "y");
  CHECK(cli::chosen_word(drops, "no-") == "no-drop");
  CHECK(cli::parted({"1,3", "5", ","}) == std::vector<std::string>{"1", "3", "5"});
  CHECK(cli::words_of("clear --note \"at the  lip\" ") ==
        std::vector<std::string>{"clear", "--note", "at the  lip"});
  CHECK(cli::words_of("  \t") == std::vector<std::string>{});
  CHECK(cli::words_of("a \"b c") == std::vector<std::string>{"a", "b c"});
}

TEST_CASE("a repair whose part is not in stock is left until it is here", "[cli][work]") {
  Sittings job;
  const std::string typed =
      "other rubber-check-off\nsplit all\nother renew-intake-rubber\nskip\nquit\n";
  const std::string out = job.tell({"work", job.job(), "--no-part", "intake rubber"}, typed);
  CAPTURE(out);
  CHECK_THAT(out, Contains("Order intake rubber: not in stock. 'skip' goes on"));
  const std::string later = job.tell({"work", job.job()}, "other renew-intake-rubber\nquit\n");
  CHECK_THAT(later, !Contains("not in stock"));
}

TEST_CASE("what was admitted when asked stands among what may have gone", "[cli][work]") {
  Sittings job;
  job.tell({"record", job.job(), "speed-hangs", "clear"});
  job.tell({"record", job.job(), "idles-only-propped", "yes", "--asked"});
  job.tell({"repair", job.job(), "renew-fuel"});
  const std::string out = job.work({"other verify", "changed", "2", "quit"});
  CAPTURE(out);
  CHECK_THAT(out, Contains("  2  idles-only-propped") &&
                      Contains("verified: changed: idles-only-propped"));
}

}  // namespace tickover::cli_work_test
