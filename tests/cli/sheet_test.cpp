/// @file
/// The job sheet as HTML and CSV, and the review, through the program.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/json_text.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::cli_sheet_test {
namespace {

using Catch::Contains;
using Texts = std::vector<std::string>;

const std::string kWild = "=cmd|' /C x'!A0 <script>alert(\"1\")</script> & \xe2\x80\xae \x1b[31m";

/// A finished job of an invented twin, with readings as found and as left.
class Finished {
 public:
  explicit Finished(const std::string& complaint = "revs hang") {
    run({"open", "twin.job", "--machine", "twin-parallel", "--complaint", complaint});
    run({"record", "twin.job", "speed-hangs", "clear", "--note", complaint});
    run({"record", "twin.job", "float-height", "--cyl", "1", "21.5mm", "--minutes", "12"});
    run({"repair", "twin.job", "set-float", "--cyl", "1", "--minutes", "15"});
    run({"repair", "twin.job", "renew-intake-rubber", "--cyl", "2"});
    run({"verify", "twin.job", "gone"});
  }

  test::ProgramResult run(const Texts& words) const {
    return test::run_program(
        {words, scratch_.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  }
  std::string file(const Texts& options, const std::string& name) const {
    Texts words = {"sheet", "twin.job"};
    words.insert(words.end(), options.begin(), options.end());
    const auto result = run(words);
    CAPTURE(result.err);
    CHECK(result.status == 0);
    return scratch_.read(name);
  }

 private:
  test::Scratch scratch_;
};

/// Every element that is opened is closed, in order; void ones aside.
bool well_nested(const std::string& html) {
  static const std::set<std::string> empty = {"meta",   "!DOCTYPE", "line", "rect",
                                              "circle", "polyline", "br"};
  Texts open;
  for (std::size_t at = html.find('<'); at != std::string::npos; at = html.find('<', at + 1)) {
    const bool closing = html[at + 1] == '/';
    const std::size_t begin = at + (closing ? 2 : 1);
    const std::string name = html.substr(begin, html.find_first_of(" >\n", begin) - begin);
    if (empty.count(name) > 0) continue;
    if (!closing) {
      open.push_back(name);
    } else {
      if (open.empty() || open.back() != name) return false;
      open.pop_back();
    }
  }
  return open.empty();
}

}  // namespace

TEST_CASE("the HTML sheet needs nothing else and is well nested", "[cli][sheet]") {
  const Finished job;
  const std::string html = job.file({"--html", "a.html"}, "a.html");
  CHECK(html.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
  CHECK(well_nested(html));
  CHECK_FALSE(well_nested("<p><b></p></b>"));
  for (const std::string fetched : {"http:", "https:", "<script", "<link", "src=", "url("}) {
    CAPTURE(fetched);
    CHECK(html.find(fetched) == std::string::npos);
  }
  CHECK(html.find("[") == std::string::npos);  // a text the catalogue lacks
  const std::size_t complaint = html.find("id=\"complaint\""), cause = html.find("id=\"cause\""),
                    correction = html.find("id=\"correction\""), trail = html.find("id=\"trail\"");
  CHECK(complaint < cause);
  CHECK(cause < correction);
  CHECK(correction < trail);
  CHECK_THAT(html, Contains("21.5 mm"));
  CHECK_THAT(html, Contains("out of limits"));
  CHECK_THAT(html, Contains("<svg role=\"img\" aria-labelledby=\"time-title time-told\""));
}

TEST_CASE("what people typed is text in HTML and no formula in CSV", "[cli][sheet]") {
  const Finished job(kWild);
  const std::string html = job.file({"--html", "a.html"}, "a.html");
  CHECK(well_nested(html));
  CHECK_THAT(html, Contains("&lt;script&gt;alert(&quot;1&quot;)"));
  CHECK(html.find("\x1b") == std::string::npos);
  CHECK(html.find("\xe2\x80\xae") == std::string::npos);
  const std::string csv = job.file({"--csv", "a.csv"}, "a.csv");
  CHECK(csv.find("\"=") == std::string::npos);
  CHECK_THAT(csv, Contains("21.5"));
}

TEST_CASE("ten thousand wild characters are text on every form of the sheet", "[cli][sheet]") {
  std::string wild;
  while (wild.size() < 10'000) {
    wild += kWild + "'\"`|*_[]</td>--><!-- \xf0\x9f\x94\xa7\xd7\xa9\xd7\x9c ]]> {0} \\";
  }
  const Finished job(wild);
  const std::string html = job.file({"--html", "a.html"}, "a.html"),
                    rider = job.file({"--html", "r.html", "--for", "rider"}, "r.html"),
                    csv = job.file({"--csv", "a.csv"}, "a.csv"),
                    markdown = job.file({"--md", "a.md"}, "a.md"),
                    printed = job.run({"sheet", "twin.job"}).out;
  for (const std::string& text : {html, rider, csv, markdown, printed}) {
    CHECK(text.size() > 10'000);
    CHECK(std::none_of(text.begin(), text.end(), [](char c) {
      return (c >= 0 && c < ' ' && c != '\n' && c != '\r') || c == 0x7f;
    }));
    CHECK(text.find("\xe2\x80\xae") == std::string::npos);
    CHECK(text.find("\xf0\x9f\x94\xa7") != std::string::npos);  // a spanner is no harm
  }
  CHECK(well_nested(html));
  CHECK(well_nested(rider));
  CHECK(html.find("<script") == std::string::npos);
  CHECK(html.find("<!--") == std::string::npos);
  CHECK(markdown.find("<script") == std::string::npos);
  for (const char start : std::string("=+-@")) {
    CHECK(csv.find(std::string("\"") + start) == std::string::npos);
    CHECK(csv.find(std::string(",") + start) == std::string::npos);
  }
}

TEST_CASE("every graded answer of the pack has its German word", "[cli][sheet]") {
  const nlohmann::json answers =
      test::json_of(test::source_text("knowledge/sheet/de.json")).at("answers");
  for (const pack::Finding& finding : test::shipped_pack().findings) {
    for (const std::string& level : finding.levels) {
      CAPTURE(finding.id, level);
      CHECK(answers.contains(level));
    }
  }
  CHECK(answers.contains("unsure"));
  const Finished job;
  CHECK_THAT(job.run({"sheet", "twin.job", "--language", "de"}).out,
             Contains("Speed hangs after a blip: deutlich"));
  CHECK_THAT(job.run({"sheet", "twin.job"}).out, Contains("Speed hangs after a blip: clear"));
}

TEST_CASE("a sheet for the file - is printed", "[cli][sheet]") {
  const Finished job;
  for (const std::string option : {"--html", "--md", "--csv"}) {
    CAPTURE(option);
    const auto printed = job.run({"sheet", "twin.job", option, "-"});
    CHECK(printed.status == 0);
    CHECK(printed.out == job.file({option, "written" + option}, "written" + option));
  }
}

TEST_CASE("causes that stand alike at several places take one line of the sheet", "[cli][sheet]") {
  const Finished job;
  job.run({"open", "four.job", "--machine", "four-inline"});
  job.run({"record", "four.job", "idles-only-propped", "yes"});
  const std::string name = "Pilot jet or pilot passage partly blocked, ";
  CHECK_THAT(job.run({"sheet", "four.job"}).out,
             Contains(name + "cylinders 1, 2, 3 and 4: each 9"));
  CHECK_THAT(job.run({"sheet", "four.job", "--language", "de"}).out,
             Contains(name + "Zylinder 1, 2, 3 und 4: je 9"));
  const auto trail = nlohmann::json::parse(job.run({"sheet", "four.job", "--json"}).out);
  CHECK(trail["steps"][1]["leading"].size() == 5);  // to programs each by itself
}

TEST_CASE("the rider is told what was measured out of limits and left so", "[cli][sheet]") {
  const Finished job;
  const auto watch = [&] {
    const std::string page = job.run({"sheet", "twin.job", "--for", "rider"}).out;
    return page.substr(page.find("## What to watch"));
  };
  CHECK(job.run({"record", "twin.job", "float-height", "--cyl", "2", "15mm"}).status == 0);
  CHECK_THAT(watch(), Contains("15 mm, out of its limits and left so"));
  CHECK(job.run({"repair", "twin.job", "set-float", "--cyl", "2"}).status == 0);
  CHECK_THAT(watch(), !Contains("out of its limits"));  // not measured again: not known to be out
  CHECK(job.run({"record", "twin.job", "float-height", "--cyl", "2", "15.5mm"}).status == 0);
  CHECK_THAT(watch(), Contains("15.5 mm, out of its limits and left so") && !Contains("15 mm"));
}

TEST_CASE("Markdown for the rider is the short page", "[cli][sheet]") {
  const Finished job;
  const std::string rider = job.run({"sheet", "twin.job", "--for", "rider"}).out,
                    whole = job.run({"sheet", "twin.job"}).out;
  CHECK_THAT(rider, Contains("# Your machine") && Contains("revs hang") &&
                        Contains("- Set the float") && Contains("the complaint is gone"));
  CHECK(rider.find("dB") == std::string::npos);
  CHECK(rider.find(" %") == std::string::npos);
  CHECK(2 * rider.size() < whole.size());
  CHECK(job.file({"--md", "r.md", "--for", "rider"}, "r.md") == rider);
}

TEST_CASE("a repair in vain is nothing found, and closing so is told", "[cli][sheet]") {
  const test::Scratch scratch;
  const auto run = [&](const Texts& words) {
    return test::run_program(
        {words, scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  };
  run({"open", "four.job", "--machine", "four-inline", "--risk", "old-rubber"});
  run({"record", "four.job", "speed-hangs", "clear"});
  run({"repair", "four.job", "renew-intake-rubber", "--cyl", "3"});
  CHECK_THAT(run({"review", "four.job"}).out,
             Contains("Found, or repaired as probable\n  - Intake rubber"));
  run({"verify", "four.job", "still"});
  const std::string review = run({"review", "four.job"}).out;
  CHECK_THAT(review, Contains("no repair met what was probable") &&
                         Contains("road test found it still there."));
  const auto expected = [](const std::string& told) {
    const std::size_t begin = told.find("was expected to be gone ");
    return told.substr(begin, told.find('.', begin) - begin);
  };
  run({"verify", "four.job", "still"});  // what is known by now is not what was expected
  CHECK(expected(run({"review", "four.job"}).out) == expected(review));
  CHECK_THAT(run({"finish", "four.job"}).out,
             Contains("finished, though no road test has found the complaint gone"));
}

TEST_CASE("the sheet is complete in German, and short for the rider", "[cli][sheet]") {
  const Finished job;
  const std::string german = job.file({"--html", "d.html", "--language", "de"}, "d.html");
  CHECK(german.starts_with("<!DOCTYPE html>\n<html lang=\"de\">"));
  CHECK(german.find("[") == std::string::npos);
  CHECK_THAT(german, Contains("<h1>Auftragsblatt</h1>"));
  const std::string rider = job.file({"--html", "r.html", "--for", "rider"}, "r.html");
  CHECK(well_nested(rider));
  CHECK(rider.find(" dB") == std::string::npos);
  CHECK(rider.size() < german.size());
  CHECK(job.run({"sheet", "twin.job", "--language", "nl"}).status == 2);
  CHECK(job.run({"sheet", "twin.job", "--html", "r.html"}).status == 73);
}

TEST_CASE("a review tells what was left, and what was not measured again", "[cli][review]") {
  const Finished job;
  const auto text = job.run({"review", "twin.job"});
  CHECK(text.status == 0);
  CHECK_THAT(text.out, Contains("Repaired, and not measured again"));
  const nlohmann::json review = test::json_of(job.run({"review", "twin.job", "--json"}).out);
  CHECK(review["report"] == "review");
  CHECK(review["verified"] == true);
  CHECK(review["without-as-left"].size() == 1);
  CHECK(review["left-beyond"].empty());
  CHECK(review["cured"] > 0);
  CHECK(review["cured"] < 1);
}

TEST_CASE("a review sees a reading out of limits that nobody mended", "[cli][review]") {
  const Finished job;
  job.run({"record", "twin.job", "float-height", "--cyl", "1", "21.5mm"});
  const nlohmann::json review = test::json_of(job.run({"review", "twin.job", "--json"}).out);
  CHECK(review["left-beyond"].size() == 1);
  CHECK(review["left-beyond"][0]["as-left"] == true);
  CHECK(review["without-as-left"].empty());
}

}  // namespace tickover::cli_sheet_test
