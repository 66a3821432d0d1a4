/// @file
/// The real program and the real disk: files of the wrong kind or size, locks, torn lines, short
/// writes, a screen that takes nothing. Exit statuses as documented, jobs left as they were.
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <functional>

#include "tests/support/cases.hpp"
#include "tests/support/knowledge.hpp"
#include "tests/support/program.hpp"

namespace tickover::errors_disk_test {
namespace {

namespace fs = std::filesystem;
using test::ProgramResult;
using test::Scratch;

/// A file the program reads, and a command that reads it.
struct Input {
  std::string file;
  std::vector<std::string> command;
};

const std::vector<Input>& inputs() {
  static const std::vector<Input> all = {
      {"pack/causes.json", {"vet", "pack"}},
      {"knowledge/carburettor/pack.json", {"causes", "bike.job"}},
      {"sheet.json", {"open", "new.job", "--machine", "sheet.json"}},
      {"bike.job", {"causes", "bike.job"}},
      {"bike.job", {"record", "bike.job", "hunts", "none"}},
  };
  return all;
}

/// Bad data is an error to other commands; to `vet` it is the answer.
int status_of(const Input& input, int status) {
  return status == 65 && input.command.front() == "vet" ? 1 : status;
}

/// Replaces each input by something else; the program must say so with `status`, and make nothing.
void check_each(int status, const std::string& said,
                const std::function<void(const std::string& path)>& replace) {
  for (const Input& input : inputs()) {
    CAPTURE(input.file, input.command);
    const Scratch scratch;
    test::lay_out_bench(scratch);
    fs::remove(scratch.path(input.file));
    replace(scratch.path(input.file));
    const ProgramResult got = test::run_in(scratch.folder(), input.command);
    CHECK(got.status == status_of(input, status));
    CHECK(got.out == "");
    CHECK(got.err.find(said) != std::string::npos);
    CHECK_FALSE(fs::exists(scratch.path("new.job")));
  }
}

/// Holds the lock on a file as another process would.
class HeldLock {
 public:
  explicit HeldLock(const std::string& path) : handle_(::open(path.c_str(), O_RDONLY | O_CLOEXEC)) {
    REQUIRE(::flock(handle_, LOCK_EX | LOCK_NB) == 0);
  }
  ~HeldLock() { ::close(handle_); }
  HeldLock(const HeldLock&) = delete;
  HeldLock& operator=(const HeldLock&) = delete;

 private:
  int handle_;
};

const std::vector<std::string>& adding_commands() {
  static const std::vector<std::string> all = {
      "record bike.job hunts none", "strip bike.job cover",  "refit bike.job",
      "repair bike.job tap-open",   "verify bike.job still", "strike bike.job 4 --reason x",
      "note bike.job hello",        "finish bike.job"};
  return all;
}

const std::vector<std::string>& reading_commands() {
  static const std::vector<std::string> all = {"causes bike.job", "next bike.job",
                                               "why bike.job tap-shut", "sheet bike.job"};
  return all;
}

}  // namespace

TEST_CASE("a missing file is 66", "[errors][disk]") {
  // a pack without one of its files, a job and a sheet that are not there
  check_each(66, "tickover: ", [](const std::string&) {});
}

TEST_CASE("a file of 200 MB is refused unread", "[errors][disk]") {
  check_each(65, "the file has 209715200 bytes; at most ", [](const std::string& path) {
    std::ofstream(path).close();
    fs::resize_file(path, 200u << 20);  // sparse: takes no room
  });
  const Scratch scratch;
  test::lay_out_bench(scratch);
  fs::resize_file(scratch.path("bike.job"), 200u << 20);
  const ProgramResult got = test::run_in(scratch.folder(), {"causes", "bike.job"});
  CHECK(got.status == 65);
  if (!test::kSanitized) CHECK(got.peak_kib < 190u * 1024);  // sanitizers take room of their own
}

TEST_CASE("a folder in place of a file is 66", "[errors][disk]") {
  check_each(66, "cannot be read: it is not a file",
             [](const std::string& path) { fs::create_directory(path); });
}

TEST_CASE("a pipe in place of a file is 66, and is not waited for", "[errors][disk]") {
  check_each(66, "cannot be read: it is not a file",
             [](const std::string& path) { REQUIRE(::mkfifo(path.c_str(), 0600) == 0); });
}

TEST_CASE("an unreadable file is 66", "[errors][disk]") {
  if (::geteuid() == 0) return;  // root may read everything
  check_each(66, "cannot be read: Permission denied", [](const std::string& path) {
    std::ofstream(path).close();
    REQUIRE(::chmod(path.c_str(), 0) == 0);
  });
}

TEST_CASE("an empty file is 65, or 1 to vet", "[errors][disk]") {
  check_each(65, "tickover: ", [](const std::string& path) { std::ofstream(path).close(); });
}

TEST_CASE("a job in use is 75, and is left alone", "[errors][disk]") {
  const Scratch scratch;
  test::lay_out_bench(scratch);
  const auto before = scratch.files();
  const HeldLock held(scratch.path("bike.job"));
  for (const std::string& line : adding_commands()) {
    CAPTURE(line);
    const ProgramResult got = test::run_in(scratch.folder(), test::words_of_line(line));
    CHECK(got.status == 75);
    CHECK(got.out == "");
    CHECK(got.err ==
          "tickover: bike.job: another process is using this job; try again when it is done\n");
    CHECK(scratch.files() == before);
  }
  for (const std::string& line : reading_commands()) {
    CAPTURE(line);
    CHECK(test::run_in(scratch.folder(), test::words_of_line(line)).status == 0);
  }
}

TEST_CASE("a write that breaks off is 74, and the job is as it was", "[errors][disk]") {
  for (const std::string tail : {"", "{\"n\":11,\"torn"}) {
    const Scratch scratch;
    test::lay_out_bench(scratch);
    const std::string job = test::base_job() + tail;
    scratch.write("bike.job", job);
    for (const std::string& line : adding_commands()) {
      CAPTURE(line, tail);
      const ProgramResult got = test::run_program({.words = test::words_of_line(line),
                                                   .folder = scratch.folder(),
                                                   .largest_file = job.size() + 20});
      CHECK(got.status == 74);
      CHECK(got.out == "");
      CHECK(got.err.find("tickover: bike.job: writing failed, the file is as it was: ") !=
            std::string::npos);
      CHECK(scratch.read("bike.job") == job);
    }
    CHECK(test::run_in(scratch.folder(), {"note", "bike.job", "room again"}).status == 0);
  }
}

TEST_CASE("a job that cannot be created whole is not created", "[errors][disk]") {
  const Scratch scratch;
  test::lay_out_bench(scratch);
  const auto before = scratch.files();
  const ProgramResult got =
      test::run_program({.words = {"open", "new.job", "--machine", "tiny-twin"},
                         .folder = scratch.folder(),
                         .largest_file = 200});
  CHECK(got.status == 74);
  CHECK(got.out == "");
  CHECK(got.err.find("writing failed, nothing was created") != std::string::npos);
  CHECK(scratch.files() == before);
}

TEST_CASE("a torn line is told of, not taken for data, and kept aside", "[errors][disk]") {
  const Scratch scratch;
  test::lay_out_bench(scratch);
  const std::string torn = "{\"n\":11,\"time\":\"2026-03-02T11:0";
  scratch.write("bike.job", test::base_job() + torn);
  for (const std::string& line : reading_commands()) {
    CAPTURE(line);
    const ProgramResult got = test::run_in(scratch.folder(), test::words_of_line(line));
    CHECK(got.status == 0);
    CHECK(got.out != "");
    CHECK(got.err == "bike.job: the last line is torn (" + std::to_string(torn.size()) +
                         " bytes, as after a power cut); it is not taken for data\n");
  }
  CHECK(scratch.read("bike.job") == test::base_job() + torn);
  const ProgramResult added = test::run_in(scratch.folder(), {"note", "bike.job", "on we go"});
  CHECK(added.status == 0);
  CHECK(added.err.find("The torn last line is kept in bike.job.torn-1.\n") != std::string::npos);
  CHECK(scratch.read("bike.job.torn-1") == torn);
  CHECK(scratch.read("bike.job").starts_with(test::base_job() + "{\"n\":11,"));
  CHECK(test::run_in(scratch.folder(), {"causes", "bike.job"}).err == "");
}

TEST_CASE("a whole last line without its line feed is data", "[errors][disk]") {
  const Scratch scratch;
  test::lay_out_bench(scratch);
  std::string job = test::base_job();
  job.pop_back();
  scratch.write("bike.job", job);
  const ProgramResult causes = test::run_in(scratch.folder(), {"causes", "bike.job", "--json"});
  CHECK(causes.err == "");
  const ProgramResult added = test::run_in(scratch.folder(), {"note", "bike.job", "on we go"});
  CHECK(added.status == 0);
  CHECK(scratch.read("bike.job").starts_with(test::base_job() + "{\"n\":11,"));
  CHECK(test::run_in(scratch.folder(), {"causes", "bike.job", "--json"}).out == causes.out);
}

TEST_CASE("a screen that takes nothing is 74; what was recorded is whole", "[errors][disk]") {
  if (!fs::exists("/dev/full")) return;
  const Scratch scratch;
  test::lay_out_bench(scratch);
  for (const bool closed : {false, true}) {
    CAPTURE(closed);
    test::ProgramRun run{.words = {"causes", "bike.job"}, .folder = scratch.folder()};
    run.out_to = "/dev/full";
    run.out_closed = closed;
    const std::string before = scratch.read("bike.job");
    const ProgramResult read = test::run_program(run);
    CHECK(read.status == 74);
    CHECK(read.err.find("tickover: the answer could not be written out\n") == 0);
    CHECK(scratch.read("bike.job") == before);
    run.words = {"note", "bike.job", "hello"};
    CHECK(test::run_program(run).status == 74);
    CHECK(scratch.read("bike.job").starts_with(before + "{\"n\":"));
    CHECK(test::run_in(scratch.folder(), {"causes", "bike.job"}).err == "");
  }
}

TEST_CASE("an answer of no is 1, and an answer of yes is 0", "[errors][disk]") {
  const Scratch scratch;
  test::lay_out_bench(scratch);
  const auto status = [&](const std::string& line) {
    return test::run_in(scratch.folder(), test::words_of_line(line)).status;
  };
  CHECK(status("verify bike.job still") == 1);
  CHECK(status("verify bike.job changed --gone hunts") == 2);  // all of it gone is no change
  CHECK(status("verify bike.job gone") == 2);                  // nothing was repaired since
  CHECK(status("repair bike.job tap-open") == 0);
  CHECK(status("verify bike.job gone") == 0);
  CHECK(status("vet pack") == 0);
  CHECK(status("--help") == 0);
  CHECK(status("") == 2);
}

}  // namespace tickover::errors_disk_test
