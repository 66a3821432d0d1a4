/// @file
/// Guided work counts what is left of today down.
#include <catch2/catch.hpp>

#include "tests/support/scratch.hpp"
#include "tests/support/typed.hpp"

namespace tickover::cli_time_left_test {
namespace {

using Catch::Contains;

/// What is told of a sitting with 40 minutes left.
std::string work(const std::string& typed) {
  const test::Scratch scratch;
  const std::string job = scratch.path("bike.job");
  test::told({"open", job, "--machine", "single", "--complaint", "revs hang after a blip"});
  test::told({"record", job, "speed-hangs", "clear"});
  return test::told({"work", job, "--left", "40"}, typed + "quit\n");
}

}  // namespace

TEST_CASE("what an entry took is taken off what is left today", "[cli][work]") {
  const std::string told = work("no --minutes 5\nno\n");
  CHECK_THAT(told, Contains("Left today: about 35 min.") && Contains("Left today: about 34 min."));
}

TEST_CASE("what is taken back takes its minutes back", "[cli][work]") {
  const std::string told = work("no --minutes 25\nback\nno --minutes 10\n");
  CHECK_THAT(told, Contains("Left today: about 15 min.") && Contains("Left today: about 40 min.") &&
                       Contains("Left today: about 30 min."));
}

TEST_CASE("when nothing fits any more, that is said and nothing else", "[cli][work]") {
  const std::string told = work("no --minutes 40\n");
  CHECK_THAT(told, Contains("Left today: about 0 min.") &&
                       Contains("Nothing that is worth doing fits into 0 min.") &&
                       Contains("'quit' leaves the job open"));
  CHECK_THAT(told, !Contains("worth its time against handing"));
}

}  // namespace tickover::cli_time_left_test
