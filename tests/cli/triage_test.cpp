/// @file
/// `triage` through the program: proposes, records nothing, lets nothing steer a terminal.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/json_text.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::cli_triage_test {
namespace {

struct Job {
  Job() { run({"open", "my bike.job", "--machine", "four-inline"}); }
  test::ProgramResult run(const std::vector<std::string>& words) const {
    return test::run_program(
        {words, scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  }
  test::ProgramResult triage(const std::string& text) const {
    return run({"triage", "my bike.job", text});
  }
  test::Scratch scratch;
};

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++found;
  }
  return found;
}

}  // namespace

TEST_CASE("triage records nothing, and its lines record what they say", "[cli][triage]") {
  const Job job;
  const auto before = job.scratch.files();
  const std::string out = job.triage("it hangs up after a blip").out;
  CHECK(job.scratch.files() == before);
  const std::string line = "tickover record 'my bike.job' speed-hangs clear";
  REQUIRE(out.find(line) != std::string::npos);
  CHECK(out.find("tickover record 'my bike.job' speed-hangs none") != std::string::npos);
  CHECK(out.find("Nothing was recorded.") != std::string::npos);
  std::vector<std::string> words = test::words_of_line(line);
  words.erase(words.begin());
  CHECK(job.run(words).status == 0);
  CHECK(job.triage("it hangs up after a blip").out.find("Recorded already: clear (entry 2)") !=
        std::string::npos);
}

TEST_CASE("a denied symptom is offered to be recorded, as data too", "[cli][triage]") {
  const Job job;
  const auto report = test::json_of(
      job.run({"triage", "my bike.job", "--json", "no popping on the over-run", "wombat"}).out);
  CHECK(report["report"] == "triage");
  REQUIRE(report["symptoms"].size() == 1);
  CHECK(report["symptoms"][0]["symptom"] == "overrun-popping");
  CHECK(report["symptoms"][0]["standing"] == "denied");
  CHECK(report["not-understood"] == nlohmann::json{"wombat"});
}

TEST_CASE("a rider's text steers no terminal and may be anything", "[cli][triage]") {
  const Job job;
  const test::ProgramResult got = job.triage(
      "\x1b[31mthe revs\r\nhang\x1b[0m \xC2\x9B wombat\xE2\x80\xAE \xFF\x07 pi\xC3\xB1\x61ta");
  CHECK(got.status == 0);
  for (const char c : got.out) CHECK((static_cast<unsigned char>(c) >= 0x20 || c == '\n'));
  CHECK(got.out.find("\xE2\x80\xAE") == std::string::npos);
  CHECK(got.out.find("\xC2\x9B") == std::string::npos);
  CHECK(got.out.find("speed-hangs") != std::string::npos);
  CHECK(got.out.find("pi\xC3\xB1\x61ta") != std::string::npos);
}

TEST_CASE("a long text is read, one too long is refused, none is no text", "[cli][triage]") {
  const Job job;
  std::string text;
  while (text.size() < 15000) text += "pops surges hangs ";
  CHECK(job.triage(text).status == 0);
  while (text.size() < 17000) text += "pops ";
  const test::ProgramResult refused = job.triage(text);
  CHECK(refused.status == 2);
  CHECK(refused.err.find("longer than 16000 bytes") != std::string::npos);
  CHECK(job.run({"triage", "my bike.job"}).status == 2);
  CHECK(job.triage("").status == 2);
  CHECK(job.triage("...").out.find("None of the pack's symptoms") != std::string::npos);
  std::string words;
  for (int i = 0; i < 60; ++i) words += "wombat" + std::to_string(i) + " ";
  CHECK(count(job.triage(words).out, "wombat") == 40);
  CHECK(job.triage(words).out.find("and 20 more") != std::string::npos);
}

}  // namespace tickover::cli_triage_test
