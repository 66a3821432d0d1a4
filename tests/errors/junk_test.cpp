/// @file
/// Texts that are no JSON document at all, in place of each file the program reads.
#include <catch2/catch.hpp>
#include <functional>
#include <nlohmann/json.hpp>

#include "engine/foundation/json_document.hpp"
#include "engine/job/journal.hpp"
#include "engine/machine/machine.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/knowledge.hpp"

namespace tickover::errors_junk_test {
namespace {

std::string repeated(const std::string& piece, std::size_t times) {
  std::string text;
  for (std::size_t i = 0; i < times; ++i) text += piece;
  return text;
}

std::string every_byte() {
  std::string text;
  for (int byte = 0; byte < 256; ++byte) text += static_cast<char>(byte);
  return text;
}

/// Bytes without a pattern, the same in every run.
std::string noise(std::size_t size) {
  std::string text;
  std::uint32_t state = 1;
  while (text.size() < size) {
    state = state * 1664525 + 1013904223;  // Numerical Recipes' linear congruence
    text += static_cast<char>(state >> 24);
  }
  return text;
}

std::string utf16(const std::string& text, bool little) {
  std::string wide = little ? "\xFF\xFE" : "\xFE\xFF";
  for (const char c : text) wide += little ? std::string{c, '\0'} : std::string{'\0', c};
  return wide;
}

struct Junk {
  std::string what, text;
};

/// `valid` is the text that should stand there.
std::vector<Junk> junk(const std::string& valid) {
  const std::string latin1 = valid.substr(0, valid.find('"') + 1) + "caf\xE9" + valid;
  return {{"nothing", ""},
          {"blanks", " \t\r\n \n"},
          {"a nul", std::string(1, '\0')},
          {"every byte", every_byte()},
          {"noise", noise(100000)},
          {"Latin-1", latin1},
          {"UTF-16, little end first", utf16(valid, true)},
          {"UTF-16, big end first", utf16(valid, false)},
          {"UTF-16 without a mark", utf16(valid, true).substr(2)},
          {"arrays in arrays", repeated("[", 100000) + repeated("]", 100000)},
          {"arrays without an end", repeated("[", 100000)},
          {"objects in objects", repeated("{\"a\":", 100000) + "1" + repeated("}", 100000)},
          {"one letter, long", repeated("a", 1000000)},
          {"one string, long", "\"" + repeated("a", 1000000) + "\""},
          {"a string without an end", "\"" + repeated("a", 1000)},
          {"a name without an end", "{\"" + repeated("\\\"", 1000)},
          {"half of it", valid.substr(0, valid.size() / 2)},
          {"all but the last brace", valid.substr(0, valid.rfind('}'))},
          {"it twice", valid + valid},
          {"a number", "1"},
          {"null", "null"},
          {"a web page", "<!DOCTYPE html><html><body>404</body></html>"}};
}

void check_refused(const std::string& valid, const std::function<void(const std::string&)>& read) {
  for (const Junk& one : junk(valid)) {
    CAPTURE(one.what);
    try {
      read(one.text);
      FAIL_CHECK("accepted");
    } catch (const InputError& error) {
      CHECK(error.fault() == InputFault::data);
      CHECK_FALSE(error.place().empty());
      CHECK(std::string(error.what()).size() < 600);
    } catch (const std::exception& error) {
      FAIL_CHECK("another exception: " << error.what());
    }
  }
}

}  // namespace

TEST_CASE("no junk passes for a file of a pack", "[errors][junk]") {
  const std::string schema = test::schema_text("pack");
  for (const std::string& name : pack::file_names()) {
    CAPTURE(name);
    pack::PackFiles files = test::base_pack();
    check_refused(test::base_pack().at(name), [&](const std::string& text) {
      files[name] = text;
      pack::load(files, schema, "pack");
    });
  }
}

TEST_CASE("no junk passes for a machine sheet", "[errors][junk]") {
  check_refused(test::text_of(test::base_sheet()), [](const std::string& text) {
    load_machine(text, test::schema_text("machine"), "sheet.json");
  });
}

TEST_CASE("no junk passes for a job", "[errors][junk]") {
  const JsonSchema schema(test::schema_text("job"));
  const std::string valid = test::base_job();
  // without its first line feed, a job is one torn line: no job either
  check_refused(valid.substr(0, valid.find('\n')), [&](const std::string& text) {
    parse_journal(text, schema, "bike.job");
    parse_journal(text + "\n", schema, "bike.job");
  });
}

TEST_CASE("junk behind a whole job is torn or refused, never data", "[errors][junk]") {
  const JsonSchema schema(test::schema_text("job"));
  const std::string valid = test::base_job();
  const std::size_t entries = test::base_entries().size();
  for (const Junk& one : junk(valid.substr(0, valid.find('\n')))) {
    CAPTURE(one.what);
    if (one.text.find('\n') == std::string::npos) {
      const Journal journal = parse_journal(valid + one.text, schema, "bike.job");
      CHECK(journal.entries.size() == entries);
      CHECK(journal.torn == one.text);
    }
    CHECK_THROWS_AS(parse_journal(valid + one.text + "\n", schema, "bike.job"), InputError);
  }
}

TEST_CASE("a byte order mark before UTF-8 is tolerated where nothing is signed", "[errors][junk]") {
  const std::string mark = "\xEF\xBB\xBF";
  pack::PackFiles files = test::base_pack();
  files["words.json"] = mark + files["words.json"];
  CHECK_NOTHROW(pack::load(files, test::schema_text("pack"), "pack"));
  CHECK_NOTHROW(
      load_machine(mark + test::text_of(test::base_sheet()), test::schema_text("machine"), "s"));
  const JsonSchema schema(test::schema_text("job"));
  CHECK_THROWS_AS(parse_journal(mark + test::base_job(), schema, "bike.job"), InputError);
}

TEST_CASE("a pack of one layer too many is refused", "[errors][junk]") {
  pack::PackFiles files = test::base_pack();
  nlohmann::json access = test::json_of(files["access.json"]);
  for (int i = 0; access["layers"].size() < 65; ++i) {
    access["layers"].push_back(access["layers"][0]);
    access["layers"].back()["id"] = "cover-" + std::to_string(i);
  }
  files["access.json"] = test::text_of(access);
  CHECK_THROWS_WITH(pack::load(files, test::schema_text("pack"), "pack"),
                    "pack/access.json#/layers/64: there are more than 64 layers");
}

}  // namespace tickover::errors_junk_test
