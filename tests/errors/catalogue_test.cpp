/// @file
/// The error catalogue: each file of pack/, machine/ and job/ breaks one rule. The program must
/// answer with exactly that message and status, print no result, and change nothing on disk.
#include <catch2/catch.hpp>
#include <set>

#include "tests/support/error_case.hpp"
#include "tests/support/knowledge.hpp"
#include "tests/support/program.hpp"

namespace tickover::errors_catalogue_test {
namespace {

using test::ErrorCase;
using test::ProgramResult;
using test::Scratch;

void check_case(const ErrorCase& one, const std::string& usual_command) {
  CAPTURE(one.name, one.what);
  const Scratch scratch;
  test::lay_out(scratch, one);
  const auto before = scratch.files();
  const std::string command = one.run.empty() ? usual_command : one.run;
  const ProgramResult got = test::run_in(scratch.folder(), test::words_of_line(command));
  CHECK(got.err == one.message);
  CHECK(std::to_string(got.status) == one.status);
  CHECK(got.out == "");
  CHECK(scratch.files() == before);
}

void check_area(const std::string& area, const std::string& usual_command, std::size_t at_least) {
  const std::vector<ErrorCase> cases = test::error_cases(area);
  CHECK(cases.size() >= at_least);  // so that a lost folder is seen
  for (const ErrorCase& one : cases) check_case(one, usual_command);
}

}  // namespace

TEST_CASE("a pack that breaks a rule is refused by name and place", "[errors][catalogue]") {
  check_area("pack", "vet pack", 80);
}

TEST_CASE("a machine sheet that breaks a rule is refused by name and place",
          "[errors][catalogue]") {
  check_area("machine", "open new.job --machine sheet.json", 25);
}

TEST_CASE("a job file or entry that breaks a rule is refused by name and place",
          "[errors][catalogue]") {
  check_area("job", "causes bike.job", 60);
}

TEST_CASE("what the catalogue departs from is valid", "[errors][catalogue]") {
  const Scratch scratch;
  test::lay_out_bench(scratch);
  const std::string& folder = scratch.folder();
  CHECK(test::run_in(folder, {"vet", "pack"}).status == 0);
  CHECK(test::run_in(folder, {"open", "new.job", "--machine", "sheet.json"}).status == 0);
  const ProgramResult causes = test::run_in(folder, {"causes", "bike.job"});
  CHECK(causes.err == "");
  CHECK(causes.status == 0);
  CHECK(test::run_in(folder, {"note", "bike.job", "well"}).status == 0);
}

TEST_CASE("no two cases of the catalogue break the same rule", "[errors][catalogue]") {
  std::set<std::string> rules;
  for (const std::string area : {"pack", "machine", "job"}) {
    for (const ErrorCase& one : test::error_cases(area)) {
      CAPTURE(one.name);
      CHECK(rules.insert(area + one.what).second);
    }
  }
}

}  // namespace tickover::errors_catalogue_test
