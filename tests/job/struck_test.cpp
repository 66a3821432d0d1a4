/// @file
/// A struck entry equals one never recorded: the real program's belief is the same to the byte.
#include <catch2/catch.hpp>

#include "tests/support/knowledge.hpp"
#include "tests/support/program.hpp"

namespace tickover::job_struck_test {
namespace {

using test::ProgramResult;
using test::Scratch;

/// Runs each line on the bench's job; returns `causes --json` at the end.
std::string causes_after(const std::vector<std::string>& lines) {
  const Scratch scratch;
  test::lay_out_bench(scratch);
  for (const std::string& line : lines) {
    CAPTURE(line);
    const int status = test::run_in(scratch.folder(), test::words_of_line(line)).status;
    CHECK((status == 0 || line.starts_with("verify")));
  }
  const ProgramResult causes = test::run_in(scratch.folder(), {"causes", "bike.job", "--json"});
  CHECK(causes.status == 0);
  CHECK(causes.err == "");
  return causes.out;
}

}  // namespace

TEST_CASE("an entry that is struck equals one never recorded", "[job][struck]") {
  const std::string never = causes_after({});
  for (const std::string line :
       {"record bike.job hunts none", "record bike.job choke-helps yes",
        "record bike.job jet-light --cyl 2 clear", "record bike.job fuel-flow '0 ml/min'",
        "repair bike.job jet-clean --cyl all", "repair bike.job seal-renew --cyl 2",
        "verify bike.job still", "verify bike.job gone", "strip bike.job bowls", "refit bike.job",
        "note bike.job hello", "finish bike.job --cause jet-blocked"}) {
    CAPTURE(line);
    CHECK(causes_after({line, "strike bike.job 11 --reason wrong"}) == never);
  }
}

TEST_CASE("an entry that counts makes the difference that striking takes away", "[job][struck]") {
  const std::string never = causes_after({});
  CHECK(causes_after({"record bike.job choke-helps yes"}) != never);
  CHECK(causes_after({"repair bike.job jet-clean --cyl all"}) != never);
}

TEST_CASE("striking an entry amid others equals their record without it", "[job][struck]") {
  const std::string others = "record bike.job jet-light --cyl 2 clear";
  CHECK(causes_after({"record bike.job choke-helps yes", others,
                      "strike bike.job 11 --reason wrong"}) == causes_after({others}));
}

TEST_CASE("striking the strike brings the entry back", "[job][struck]") {
  const std::string line = "record bike.job choke-helps yes";
  CHECK(causes_after({line, "strike bike.job 11 --reason a", "strike bike.job 12 --reason b"}) ==
        causes_after({line}));
}

}  // namespace tickover::job_struck_test
