/// @file
/// What somebody types who has the program for the first time.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::cli_first_day_test {
namespace {

using Catch::Contains;

class Shop {
 public:
  test::ProgramResult run(const std::string& line) const {
    return test::run_program(
        {test::words_of_line(line), scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  }
  void open(const std::string& machine) const {
    CHECK(run("open bike.job --machine " + machine).status == 0);
    CHECK(run("record bike.job speed-hangs clear").status == 0);
  }
  test::Scratch scratch;
};

}  // namespace

TEST_CASE("a part that is not in stock is ordered, and bars nothing", "[cli][first-day]") {
  const Shop shop;
  CHECK(shop.run("open bike.job --machine four-inline --risk old-rubber").status == 0);
  CHECK(shop.run("record bike.job speed-hangs clear").status == 0);
  CHECK(shop.run("record bike.job rubber-check-in-place --cyl 2 split").status == 0);
  const std::string with = shop.run("next bike.job").out;
  const auto without = shop.run("next bike.job --no-part 'intake rubber'");
  CHECK(without.status == 0);
  CHECK_THAT(with, !Contains("Not in stock"));
  CHECK_THAT(without.out, Contains("Not in stock: to order") && Contains("intake rubber, for: ") &&
                              Contains("split or hardened, cylinder 2"));
  // else as it was: the plan is the same
  CHECK(with.substr(0, with.find('\n')) == without.out.substr(0, without.out.find('\n')));
  const auto json =
      nlohmann::json::parse(shop.run("next bike.job --no-part 'intake rubber' --json").out);
  CHECK(json.at("to-order").at(0).at("repair") == "renew-intake-rubber");
}

TEST_CASE("what comes off for a check is told in a line of its own", "[cli][first-day]") {
  const Shop shop;
  shop.open("four-inline");
  CHECK(shop.run("record bike.job flat-spot-off-idle clear").status == 0);
  CHECK(shop.run("record bike.job cold-header --cyl 3 cold").status == 0);
  CHECK(shop.run("record bike.job cold-header --cyl 1,2,4 none").status == 0);
  const std::string next = shop.run("next bike.job").out;
  CAPTURE(next);
  REQUIRE_THAT(next, Contains(" to open and close what is needed"));
  const std::size_t open = next.find("\nOpen   Side panels and seat");
  CHECK(open < next.find("\nTools  "));
  CHECK(open > next.find("\nTake care"));
  const auto json = nlohmann::json::parse(shop.run("next bike.job --json").out);
  CHECK(json.at("proposals").at(0).at("opens").at(0) == "side-panels");
}

TEST_CASE("nobody says cylinder 1 of a single", "[cli][first-day]") {
  const Shop shop;
  shop.open("single");
  CHECK(shop.run("record bike.job pilot-jet-check --cyl 1 shut").status == 0);
  CHECK(shop.run("record bike.job float-height 21mm").status == 0);
  CHECK(shop.run("repair bike.job clean-pilot --cyl 1").status == 0);
  for (const std::string line :
       {"next bike.job", "causes bike.job", "bench bike.job", "sheet bike.job",
        "sheet bike.job --html -", "review bike.job", "why bike.job pilot-jet-blocked --cyl 1",
        "verify bike.job still"}) {
    CAPTURE(line);
    const auto told = shop.run(line);
    CHECK_THAT(told.out, !Contains("ylinder 1") && !Contains(", cyl 1"));
  }
  CHECK(shop.run("finish bike.job --cause pilot-jet-blocked").status == 0);
  CHECK_THAT(shop.run("open again.job --after bike.job").out,
             Contains("Clean pilot jet and passages") && !Contains("cyl 1"));
  CHECK_THAT(shop.run("why bike.job pilot-jet-blocked").out, Contains("Pilot jet"));
}

TEST_CASE("a measurement where a word is wanted leads to the word", "[cli][first-day]") {
  const Shop shop;
  shop.open("four-inline");
  const auto rpm = shop.run("record bike.job idle-speed-check 1250rpm");
  CHECK(rpm.status == 2);
  CHECK_THAT(rpm.err, Contains("takes a word for an answer, not the measurement '1250rpm'") &&
                          Contains("no or yes, or unsure") && Contains("idle-speed from"));
  CHECK(shop.run("record bike.job idle-speed-check Yes").status == 0);
}

TEST_CASE("a missing value is asked for in the words of what was looked at", "[cli][first-day]") {
  const Shop shop;
  shop.open("four-inline");
  CHECK_THAT(shop.run("record bike.job hangs").err,
             Contains("no symptom or check named 'hangs'") && Contains("speed-hangs"));
  CHECK_THAT(
      shop.run("record bike.job cold-header").err,
      Contains("tickover record bike.job cold-header --cyl N VALUE; VALUE is none, cooler or "
               "cold, or unsure"));
  CHECK_THAT(shop.run("record bike.job cold-header 3 cold").err, Contains("; here: --cyl 3 cold"));
  CHECK_THAT(shop.run("record bike.job float-height 17 mm").err, !Contains("; here:"));
  CHECK_THAT(shop.run("record bike.job float-height --cyl 3").err,
             Contains("a value in mm, such as 17.5 mm, or unsure"));
}

TEST_CASE("a file that is no job is called what it seems to be", "[cli][first-day]") {
  const Shop shop;
  const auto told = [&](const std::string& text) {
    shop.scratch.write("file", text);
    const auto result = shop.run("next file");
    CHECK(result.status == 65);
    return result.err;
  };
  CHECK_THAT(told("<!DOCTYPE html>\n<html lang=\"en\">"), Contains("a web page (HTML)"));
  CHECK_THAT(told("\x89PNG\r\n\x1a\n"), Contains("a picture (PNG)"));
  CHECK_THAT(told("\xff\xd8\xff\xe0 JFIF"), Contains("a picture (JPEG)"));
  CHECK_THAT(told("%PDF-1.7\n"), Contains("a PDF document"));
  CHECK_THAT(told("PK\x03\x04 more"), Contains("ZIP"));
  CHECK_THAT(told("# Job sheet\n"), Contains("a text of another kind"));
  CHECK_THAT(told("{\"a\": 1}\n"), Contains("JSON of another kind") && Contains("tickover open"));
  shop.open("single");
  const std::string whole = shop.scratch.read("bike.job");
  CHECK_THAT(told(whole.substr(0, 40)), !Contains("it seems to be"));  // torn, not of another kind
}

TEST_CASE("a sheet that is a web page is called so", "[cli][first-day]") {
  const Shop shop;
  shop.scratch.write("page.json", "<html><body>");
  const auto opened = shop.run("open bike.job --machine ./page.json");
  CHECK(opened.status == 65);
  CHECK(opened.err ==
        "tickover: ./page.json: this is not JSON: it seems to be a web page (HTML)\n");
}

TEST_CASE("words of a sentence in which nothing was heard are told", "[cli][first-day]") {
  const Shop shop;
  shop.open("four-inline");
  CHECK_THAT(shop.run("triage bike.job 'it wobbles off idle'").out,
             Contains("Not understood") && Contains("idle"));
  CHECK_THAT(shop.run("triage bike.job 'weak off idle'").out, Contains("flat-spot-off-idle"));
}

TEST_CASE("every reading says how it was left", "[cli][first-day]") {
  const Shop shop;
  shop.open("four-inline");
  CHECK(shop.run("record bike.job float-height --cyl 1 17.5mm").status == 0);
  CHECK(shop.run("record bike.job float-height --cyl 2 20mm").status == 0);
  CHECK(shop.run("repair bike.job set-float --cyl 2").status == 0);
  const std::string page = shop.run("sheet bike.job --html -").out;
  CHECK_THAT(page, Contains("<td>unchanged</td>") && Contains("<td>not measured again</td>"));
  CHECK_THAT(shop.run("sheet bike.job").out, Contains("as found, unchanged | 3"));
}

TEST_CASE("the sheet in Markdown has its cautions too", "[cli][first-day]") {
  const Shop shop;
  shop.open("four-inline");
  CHECK_THAT(shop.run("sheet bike.job").out,
             Contains("## Cautions\n\n- **DANGER** Exhaust gas carries carbon monoxide"));
}

}  // namespace tickover::cli_first_day_test
