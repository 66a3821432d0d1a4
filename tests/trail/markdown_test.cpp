/// @file
/// The job sheet as Markdown: its sections, and what a rider may type into it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "engine/trail/trail.hpp"
#include "tests/support/sheet.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::trail_markdown_test {
namespace {

using test::JobWriter;

std::string markdown(const JobWriter& writer) {
  const Diagnosis job = test::diagnose(writer);
  return test::sheet_as_markdown(job, writer.journal(), make_trail(job, writer.journal()));
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// Marks that a backslash does not take the meaning from.
std::size_t bare(const std::string& text, char mark) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\\') {
      ++i;
    } else if (text[i] == mark) {
      ++count;
    }
  }
  return count;
}

JobWriter job_with(const std::string& words) {
  JobWriter job(test::shipped_sheet("four-inline"), {}, words);
  Entry entry;
  entry.event = Event::record;
  entry.what = "idle-hunts";
  entry.value = "clear";
  entry.note = words;
  job.add(entry).note(words);
  return job;
}

std::vector<std::string> headings_of(const std::string& text) {
  std::vector<std::string> headings;
  for (const std::string& line : lines_of(text)) {
    if (line.starts_with("#")) headings.push_back(line);
  }
  return headings;
}

}  // namespace

TEST_CASE("the sheet begins with complaint, cause and correction", "[trail][markdown]") {
  JobWriter job(test::shipped_sheet("four-inline"), {"long-storage"}, "it hunts at idle");
  job.record("idle-hunts", "clear").record("float-height", "19 mm", {2});
  const std::vector<std::string> headings = headings_of(markdown(job));
  CHECK(headings ==
        std::vector<std::string>{"# Job sheet", "## Complaint", "## Cause", "## Correction",
                                 "## Machine", "## Readings, as found and as left",
                                 "## What was done and seen, step by step",
                                 "## Ruled out as found, and by what", "## What remains uncertain",
                                 "## Cautions", "## Parts these repairs call for, and time"});
}

TEST_CASE("nothing a rider types is taken for markup", "[trail][markdown]") {
  const std::vector<std::string> plain = headings_of(markdown(job_with("words")));
  const std::size_t line_count = lines_of(markdown(job_with("words"))).size();
  const std::vector<std::string> hostile = {"<script>alert(1)</script>",
                                            "a | b || c",
                                            "*bold* _thin_ `code` ~~gone~~",
                                            "[link](http://example.invalid) ![picture](x)",
                                            "# heading\n## another\n\n- list\n> quote\n---\n",
                                            "&lt;b&gt; &amp; &#60;",
                                            "tail of backslashes \\\\\\",
                                            "\r\n| x | y |\r\n|---|---|\r\n",
                                            "```\nfence\n```"};
  for (const std::string& words : hostile) {
    CAPTURE(words);
    const std::string text = markdown(job_with(words));
    CHECK(headings_of(text) == plain);
    CHECK(lines_of(text).size() == line_count);
    CHECK(text.find('<') == std::string::npos);
    CHECK(bare(text, '`') == 0);
    CHECK(bare(text, '[') == 0);
    CHECK(bare(text, '~') == 0);
    for (const std::string& line : lines_of(text)) {
      // the sheet's own tables have four or five columns, and no other line has any
      const std::size_t bars = bare(line, '|');
      CHECK((bars == 0 || (line.starts_with("|") && bars == 5)));
    }
  }
}

TEST_CASE("what steers a terminal or turns text round is shown as something else",
          "[trail][markdown]") {
  const std::string text =
      markdown(job_with("\x1b[31mred\x1b[0m \x07 \xe2\x80\xaegnp.exe \xff\xfe end"));
  CHECK(std::none_of(text.begin(), text.end(),
                     [](char c) { return (c >= 0 && c < ' ' && c != '\n') || c == 0x7f; }));
  CHECK(text.find("\xe2\x80\xae") == std::string::npos);
  CHECK(text.find('\xff') == std::string::npos);
  CHECK(text.find("end") != std::string::npos);
}

TEST_CASE("a struck entry stays on the sheet, marked", "[trail][markdown]") {
  JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear").record("idle-high", "yes").strike(3);
  const std::string text = markdown(job);
  CHECK(text.find("struck out: Idle stays too high: yes") != std::string::npos);
  CHECK(text.find("Nothing was repaired.") != std::string::npos);
}

TEST_CASE("readings are told as found and as left", "[trail][markdown]") {
  JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear").record("float-height", "19 mm", {2});
  job.repair("set-float", {2}).record("float-height", "17.5 mm", {2});
  std::vector<std::string> rows;
  for (const std::string& line : lines_of(markdown(job))) {
    if (line.find("19 mm | above") != std::string::npos) rows.push_back(line);
    if (line.find("17.5 mm | within") != std::string::npos) rows.push_back(line);
  }
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].ends_with("| as found | 3 |"));
  CHECK(rows[1].ends_with("| as left | 5 |"));
}

TEST_CASE("the Markdown sheet is complete in German", "[trail][markdown]") {
  JobWriter writer(test::shipped_sheet("four-inline"), {"long-storage"}, "it hunts at idle");
  writer.record("idle-hunts", "clear").record("float-height", "19 mm", {2});
  const Diagnosis job = test::diagnose(writer);
  const Trail trail = make_trail(job, writer.journal());
  const std::string german = test::sheet_as_markdown(job, writer.journal(), trail, "de");
  CHECK(german.starts_with("# Auftragsblatt\n\n## Beanstandung\n"));
  CHECK(bare(german, '[') == 0);  // a text the catalogue lacks
  CHECK(lines_of(german).size() == lines_of(markdown(writer)).size());
}

}  // namespace tickover::trail_markdown_test
