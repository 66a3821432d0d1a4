/// @file
/// What every source file has, what none may have, and how long things may grow.
#include <catch2/catch.hpp>

#include "tests/architecture/source_tree.hpp"

namespace tickover::architecture_sources_test {
namespace {

using test::Source;
using test::source_of;

constexpr std::size_t kLongestFunction = 60;
constexpr std::size_t kLongestFile = 400;

std::size_t lines_of(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

bool has_word(const std::string& text, const std::string& word) {
  return test::words_of(text).count(word) > 0;
}

/// The last character that is no blank, or 0.
char last_mark(const std::string& text) {
  const std::size_t last = text.find_last_not_of(" \n");
  return last == std::string::npos ? '\0' : text[last];
}

enum class Block { transparent, table, function };

/// What a brace opens, by the text between it and the end of what stood before it.
Block block_after(const std::string& head) {
  for (const std::string word : {"namespace", "class", "struct", "enum", "union", "extern"}) {
    if (has_word(head, word) && head.find('(') == std::string::npos) return Block::transparent;
  }
  return last_mark(head) == '=' ? Block::table : Block::function;
}

struct Length {
  std::string where;
  std::size_t lines = 0;
};

/// Every function body with its lines, those inside it included. Rough: a member initialised with
/// braces counts as a short function.
std::vector<Length> functions_of(const Source& source) {
  std::vector<Length> found;
  std::string head;
  std::size_t depth = 0, begin = 0, line = 1;  // depth: braces open inside a function or table
  Block current = Block::transparent;
  bool directive = false;  // on a line of the preprocessor
  for (const char c : source.code) {
    if (c == '\n') ++line;
    if (c == '{' && depth == 0) {
      current = block_after(head);
      begin = line;
    }
    const bool inside = depth > 0 || (c == '{' && current != Block::transparent);
    if (inside && c == '{') ++depth;
    if (inside && c == '}' && --depth == 0 && current == Block::function) {
      found.push_back({source.path + ":" + std::to_string(begin), line - begin + 1});
    }
    head = c == '{' || c == '}' || c == ';' || (c == '\n' && directive) ? "" : head + c;
    directive = c == '#' ? true : directive && c != '\n';
  }
  return found;
}

std::vector<std::string> too_long(const std::vector<Source>& sources) {
  std::vector<std::string> found;
  const auto tell = [&](const std::string& where, std::size_t lines) {
    found.push_back(where + " has " + std::to_string(lines) + " lines");
  };
  for (const Source& source : sources) {
    if (lines_of(source.text) > kLongestFile) tell(source.path, lines_of(source.text));
    for (const Length& length : functions_of(source)) {
      if (length.lines > kLongestFunction) tell(length.where, length.lines);
    }
  }
  return found;
}

/// Headers by which clock, disk, screen and chance come in.
const std::set<std::string>& outside_headers() {
  static const std::set<std::string> headers = {
      "<chrono>",   "<ctime>",      "<time.h>",     "<random>",    "<fstream>", "<iostream>",
      "<cstdio>",   "<stdio.h>",    "<thread>",     "<future>",    "<fcntl.h>", "<unistd.h>",
      "<dirent.h>", "<sys/stat.h>", "<filesystem>", "<sys/file.h>"};
  return headers;
}

/// Names by which they are used. `time` alone is a member of an entry.
const std::set<std::string>& outside_words() {
  static const std::set<std::string> words = {
      "clock",        "system_clock",  "steady_clock", "high_resolution_clock",
      "gettimeofday", "rand",          "srand",        "random_device",
      "getenv",       "secure_getenv", "setenv",       "fopen",
      "ifstream",     "ofstream",      "fstream",      "cout",
      "cerr",         "cin",           "printf",       "thread_local",
      "setlocale"};
  return words;
}

/// What makes the order of results depend on more than the inputs.
const std::set<std::string>& unordered_words() {
  static const std::set<std::string> words = {"unordered_map", "unordered_set",
                                              "unordered_multimap", "unordered_multiset"};
  return words;
}

/// Reasoning depends on nothing but its inputs; the disk and the clock have one door, the store.
std::vector<std::string> reaching_outside(const std::vector<Source>& sources) {
  std::vector<std::string> found;
  for (const Source& source : sources) {
    if (source.room() == "cli" || source.room() == "store") continue;
    for (const std::string& include : source.includes) {
      if (outside_headers().count(include)) found.push_back(source.path + " includes " + include);
    }
    for (const std::string& word : test::words_of(source.code)) {
      const bool outside = outside_words().count(word) > 0 || unordered_words().count(word) > 0;
      if (outside) found.push_back(source.path + " uses " + word);
    }
  }
  return found;
}

/// Analysis of what was loaded cannot fail: these rooms neither throw nor catch.
std::vector<std::string> failing_analysis(const std::vector<Source>& sources) {
  static const std::set<std::string> rooms = {"belief", "plan", "trail", ""};
  std::vector<std::string> found;
  for (const Source& source : sources) {
    if (rooms.count(source.room()) == 0) continue;
    for (const std::string word : {"throw", "catch"}) {
      if (has_word(source.code, word)) found.push_back(source.path + " has " + word);
    }
  }
  return found;
}

std::vector<std::string> careless_headers(const std::vector<Source>& sources) {
  std::vector<std::string> found;
  for (const Source& source : sources) {
    if (!source.is_header()) continue;
    if (source.text.find("#pragma once\n") == std::string::npos) {
      found.push_back(source.path + " lacks #pragma once");
    }
    if (!source.text.starts_with("/// @file\n/// ")) {
      found.push_back(source.path + " does not begin with /// @file and a sentence");
    }
    if (source.code.find("using namespace") != std::string::npos) {
      found.push_back(source.path + " has a using-directive");
    }
  }
  return found;
}

/// Files under knowledge/ that are not data.
std::vector<std::string> not_data(const std::vector<std::string>& paths) {
  std::vector<std::string> found;
  for (const std::string& path : paths) {
    const bool data = path.ends_with(".json") || path.ends_with(".txt") || path.ends_with(".md");
    if (!data) found.push_back(path);
  }
  return found;
}

std::string body_of(std::size_t lines) {
  std::string body = "int f() {\n";
  for (std::size_t i = 2; i < lines; ++i) body += "  g();\n";
  return body + "}\n";
}

}  // namespace

TEST_CASE("no function and no file has grown too long", "[architecture]") {
  CHECK(test::listed(too_long(test::program())) == "");
}

TEST_CASE("the engine reaches no clock, chance, screen or disk but through the store",
          "[architecture]") {
  CHECK(test::listed(reaching_outside(test::program())) == "");
}

TEST_CASE("analysis neither throws nor catches", "[architecture]") {
  CHECK(test::listed(failing_analysis(test::program())) == "");
}

TEST_CASE("every header is guarded and says what it is", "[architecture]") {
  CHECK(test::listed(careless_headers(test::program())) == "");
}

TEST_CASE("knowledge holds data only", "[architecture]") {
  const std::vector<std::string> paths = test::paths_under("knowledge");
  CHECK(paths.size() > 10);
  CHECK(test::listed(not_data(paths)) == "");
  for (const std::string& path : paths) {
    CAPTURE(path);
    using std::filesystem::perms;
    const auto mode =
        std::filesystem::status(std::filesystem::path(TICKOVER_SOURCE) / path).permissions();
    CHECK((mode & (perms::owner_exec | perms::group_exec | perms::others_exec)) == perms::none);
  }
}

TEST_CASE("the source rules see what breaks them", "[architecture]") {
  const auto broken = [](const std::string& text) {
    return reaching_outside({source_of("engine/plan/x.cpp", text)}).size();
  };
  CHECK(broken("const auto now = std::chrono::system_clock::now();") == 1);
  CHECK(broken("#include <ctime>\n") == 1);
  CHECK(broken("std::ofstream out;") == 1);
  CHECK(broken("std::unordered_map<int, int> m;") == 1);
  CHECK(broken("// no clock, no rand\n/* getenv */ const char* s = \"clock \\\" rand\";") == 0);
  CHECK(broken("const char quote = '\"'; int n = 1'000; rand();") == 1);
  CHECK(failing_analysis({source_of("engine/plan/x.cpp", "throw 1;")}).size() == 1);
  CHECK(failing_analysis({source_of("engine/pack/x.cpp", "throw 1;")}).empty());
  CHECK(careless_headers({source_of("engine/plan/x.hpp", "struct X {};\n")}).size() == 2);
  CHECK(careless_headers({source_of("cli/x.hpp", "/// @file\n/// X.\n#pragma once\n")}).empty());
  CHECK(not_data({"knowledge/a.json", "knowledge/b.py"}).size() == 1);
}

TEST_CASE("the length alarm counts what it should", "[architecture]") {
  const auto alarms = [](const std::string& text) {
    return too_long({source_of("engine/plan/x.cpp", text)}).size();
  };
  CHECK(alarms(body_of(kLongestFunction)) == 0);
  CHECK(alarms(body_of(kLongestFunction + 1)) == 1);
  CHECK(alarms("namespace a {\nclass B {\n" + body_of(61) + "};\n}\n") == 1);
  CHECK(alarms("namespace a {\n" + body_of(40) + body_of(40) + "}\n") == 0);
  CHECK(alarms("X::X(int a) : a_{a}, b_(a) {\n" + std::string(61, '\n') + "}\n") == 1);
  CHECK(alarms("const int table[] = {\n" + std::string(100, '\n') + "};\n") == 0);
  CHECK(alarms("// {\n" + body_of(20)) == 0);
  CHECK(alarms(std::string(401, '\n')) == 1);
  CHECK(functions_of(source_of("cli/x.cpp", "void f() { if (a) { b(); } }\nint g() {}")).size() ==
        2);
}

}  // namespace tickover::architecture_sources_test
