/// @file
/// How far 'next' looks ahead, and what it says of how good its plan is.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover {
namespace {

using Catch::Contains;

class Bench {
 public:
  Bench() {
    CHECK(run({"open", "bike.job", "--machine", "single"}).status == 0);
    CHECK(run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  }
  test::ProgramResult run(const std::vector<std::string>& words) const {
    return test::run_program(
        {words, scratch_.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  }
  nlohmann::json next(const std::vector<std::string>& more) const {
    std::vector<std::string> words = {"next", "bike.job", "--json"};
    words.insert(words.end(), more.begin(), more.end());
    return nlohmann::json::parse(run(words).out);
  }

 private:
  test::Scratch scratch_;
};

}  // namespace

TEST_CASE("next looks ahead at as many moments as it is told to", "[cli][next]") {
  const Bench bench;
  const nlohmann::json none = bench.next({"--nodes", "0"}), some = bench.next({"--nodes", "5"});
  CHECK(none["bound"]["nodes"] == 0);
  CHECK(some["bound"]["nodes"] == 5);
  CHECK(bench.next({"--nodes", "5"}) == some);
  CHECK(bench.run({"next", "bike.job", "--nodes", "-1"}).status == 2);
  CHECK(bench.run({"next", "bike.job", "--think", "-1"}).status == 2);
  CHECK(bench.run({"next", "bike.job", "--think", "soon"}).status == 2);
  CHECK(bench.run({"next", "bike.job", "--think", "0.02"}).status == 0);
  const auto word = bench.run({"next", "bike.job", "--nodes", "many"});
  CHECK(word.status == 2);
  CHECK(word.err == "tickover: 'many' is no whole number\n  --nodes wants one, such as 24\n");
  CHECK(bench.next({"--think", "0"})["bound"]["nodes"] == 0);
}

TEST_CASE("next tells how far from the best plan it is at most", "[cli][next]") {
  const Bench bench;
  const nlohmann::json answer = bench.next({});
  const double least = answer["bound"]["least-minutes"], known = answer["bound"]["known-minutes"];
  CHECK(0 < least);
  CHECK(least < known);
  CHECK(known <= answer["choice"]["course-minutes"]);
  CHECK_THAT(bench.run({"next", "bike.job", "--gap"}).out,
             Contains("No plan at all can take less"));
  CHECK_THAT(bench.run({"next", "bike.job"}).out, !Contains("No plan at all can take less"));
}

}  // namespace tickover
