// Every cases/*.session is played and must print what it says, to the byte.
// TICKOVER_APPROVE=1 (tests/run.sh --approve) writes the new answers instead.

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "tests/support/shell.hpp"

namespace tickover::golden_session_test {
namespace {

namespace fs = std::filesystem;
using test::run_shell;

std::string read(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::vector<fs::path> sessions() {
  std::vector<fs::path> found;
  for (const auto& entry : fs::directory_iterator(fs::path(TICKOVER_SOURCE) / "cases")) {
    if (entry.path().extension() == ".session") found.push_back(entry.path());
  }
  std::sort(found.begin(), found.end());
  return found;
}

/// A fresh folder that goes when the test ends.
struct Folder {
  fs::path path = fs::path(test::fresh_folder());
  ~Folder() { fs::remove_all(path); }
};

std::string play(const fs::path& session, const fs::path& folder) {
  const fs::path program = fs::path(TICKOVER_PROGRAM).parent_path();
  const fs::path source = fs::path(TICKOVER_SOURCE);
  return run_shell(
             "PATH='" + program.string() + "':\"$PATH\" SOURCE_DATE_EPOCH=1772442000 TZ=UTC " +
             (source / "cases/play.sh").string() + " " + session.string() + " " + folder.string())
      .out;
}

/// What stands before the first command: a comment for readers.
std::string preamble(const std::string& text) { return text.substr(0, text.find("$ ")); }

}  // namespace

TEST_CASE("sessions print what they say", "[golden]") {
  for (const fs::path& session : sessions()) {
    CAPTURE(session);
    const Folder folder;
    const std::string expected = read(session);
    const std::string got = preamble(expected) + play(session, folder.path);
    if (std::getenv("TICKOVER_APPROVE") != nullptr) std::ofstream(session, std::ios::binary) << got;
    CHECK(got == read(session));
  }
}

TEST_CASE("the terminal examples of the README are taken from a session", "[golden]") {
  const std::string readme = read(fs::path(TICKOVER_SOURCE) / "README.md");
  std::string all;
  for (const fs::path& session : sessions()) all += read(session);
  const std::string fence = "```console\n";
  std::size_t examples = 0;
  for (std::size_t at = readme.find(fence); at != std::string::npos;
       at = readme.find(fence, at + 1)) {
    const std::size_t begin = at + fence.size();
    const std::string example = readme.substr(begin, readme.find("```", begin) - begin);
    CAPTURE(example);
    CHECK(all.find(example) != std::string::npos);
    ++examples;
  }
  CHECK(examples > 0);
}

}  // namespace tickover::golden_session_test
