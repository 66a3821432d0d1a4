/// @file
/// Whatever is typed, through every command that takes a text: nothing of it steers the terminal,
/// and the job stays whole.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::cli_rider_text_test {
namespace {

using Json = nlohmann::json;
using Texts = std::vector<std::string>;

/// Escape sequences, ends of lines, broken and overlong UTF-8, a turn of the reading direction, the
/// second set of control characters, markup, and a JSON string's end.
const Texts kNasty = {"\x1b[31mred\x1b[0m",
                      "one\r\ntwo\nthree",
                      "bell\x07 back\x08 tab\t del\x7f",
                      "\xff\xfe broken",
                      "cut \xe2\x82",
                      "overlong \xc0\xaf",
                      "turned \xe2\x80\xae back",
                      "\xc2\x9b"
                      "31m eight-bit",
                      "<script>|*_`\"},{\"n\":9"};

/// Every command line that takes the text somewhere; X stands for it.
const std::vector<Texts> kLines = {
    {"note", "bike.job", "X"},
    {"note", "bike.job", "x", "--by", "X"},
    {"record", "bike.job", "idle-hunts", "clear", "--note", "X", "--by", "X"},
    {"record", "bike.job", "X", "clear"},
    {"record", "bike.job", "idle-hunts", "X"},
    {"record", "bike.job", "float-height", "--cyl", "1", "X"},
    {"record", "bike.job", "float-height", "--cyl", "1", "17mmX"},
    {"record", "bike.job", "exhaust-gas", "--cyl", "1", "CO 3%X"},
    {"record", "bike.job", "float-height", "--cyl", "X", "17mm"},
    {"record", "bike.job", "idle-hunts", "clear", "--minutes", "X"},
    {"record", "bike.job", "idle-hunts", "clear", "--X"},
    {"strip", "bike.job", "X"},
    {"repair", "bike.job", "X"},
    {"verify", "bike.job", "X"},
    {"strike", "bike.job", "X", "--reason", "x"},
    {"strike", "bike.job", "2", "--reason", "X"},
    {"finish", "bike.job", "--cause", "X"},
    {"why", "bike.job", "X"},
    {"causes", "X"},
    {"explain", "X"},
    {"list", "X"},
    {"list", "causes", "X"},
    {"vet", "X"},
    {"open", "new.job", "--machine", "X"},
    {"open", "other.job", "--machine", "four-inline", "--risk", "X"},
    {"open", "X.job", "--machine", "four-inline"},
    {"open", "X.json.job", "--machine", "four-inline", "--json"},
    {"causes", "X.job"},
    {"calc", "X"},
    {"calc", "air", "--altitude", "X"},
    {"X"},
    {"next", "bike.job"},
    {"bench", "bike.job"},
    {"causes", "bike.job", "--json"},
    {"sheet", "bike.job"},
    {"sheet", "bike.job", "--json"}};

std::string with(std::string word, const std::string& text) {
  const std::size_t at = word.find('X');
  return at == std::string::npos ? word : word.replace(at, 1, text);
}

/// Printable text in whole UTF-8: every control character but the line feed is a fault.
bool is_clean(const std::string& text) {
  try {
    Json(text).dump();  // throws for what is no UTF-8
  } catch (const Json::exception&) {
    return false;
  }
  const bool control = std::any_of(text.begin(), text.end(), [](char c) {
    return c != '\n' && (static_cast<unsigned char>(c) < 0x20 || c == 0x7f);
  });
  for (const char* turn : {"\xe2\x80\xae", "\xc2\x9b"}) {
    if (text.find(turn) != std::string::npos) return false;
  }
  return !control;
}

/// The words are kept as they were typed, but for what is no UTF-8; a line of JSON each.
void check_job(const std::string& text) {
  CHECK_NOTHROW(Json(text).dump());
  std::istringstream lines(text);
  std::string line;
  for (int n = 1; std::getline(lines, line); ++n) CHECK(Json::parse(line)["n"] == n);
}

}  // namespace

TEST_CASE("no text that people type steers the terminal or breaks the job", "[cli][errors]") {
  const std::string nasty = GENERATE(from_range(kNasty));
  const test::Scratch scratch;
  const auto run = [&](const Texts& words) {
    return test::run_program(
        {words, scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  };
  REQUIRE(run({"open", "bike.job", "--machine", "four-inline", "--complaint", nasty}).status == 0);
  REQUIRE(run({"record", "bike.job", "speed-hangs", "clear"}).status == 0);
  for (const Texts& line : kLines) {
    Texts words;
    for (const std::string& word : line) words.push_back(with(word, nasty));
    const test::ProgramResult result = run(words);
    CAPTURE(line, result.out, result.err, result.status);
    CHECK(result.status < 70);  // no fault of the program
    CHECK(is_clean(result.out));
    CHECK(is_clean(result.err));
    const bool json = std::find(line.begin(), line.end(), "--json") != line.end();
    if (json && result.status == 0) CHECK_NOTHROW(Json::parse(result.out));
  }
  check_job(scratch.read("bike.job"));
}

}  // namespace tickover::cli_rider_text_test
