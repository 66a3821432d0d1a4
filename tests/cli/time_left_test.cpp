/// @file
/// Guided work counts what is left of today down.
#include <catch2/catch.hpp>
#include <sstream>

#include "cli/answers.hpp"
#include "cli/command.hpp"
#include "engine/store/store.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::cli_time_left_test {
namespace {

using Catch::Contains;
using Texts = std::vector<std::string>;

/// What is told of a sitting with 40 minutes left.
class Sitting {
 public:
  Sitting() {
    tell({"open", job(), "--machine", "single", "--complaint", "revs hang after a blip"});
    tell({"record", job(), "speed-hangs", "clear"});
  }

  std::string work(const std::string& typed) {
    return tell({"work", job(), "--left", "40"}, typed + "quit\n");
  }

 private:
  std::string job() const { return scratch_.path("bike.job"); }

  std::string tell(const Texts& words, const std::string& typed = "") {
    std::istringstream in(typed);
    std::ostringstream out;
    cli::StreamAnswers answers(in, out, true);
    cli::World world{*store_, out, out, std::string(TICKOVER_SOURCE) + "/knowledge", &answers};
    CHECK(cli::dispatch(world, words) == 0);
    return out.str();
  }

  test::Scratch scratch_;
  const std::unique_ptr<Store> store_ = disk_store();
};

}  // namespace

TEST_CASE("what an entry took is taken off what is left today", "[cli][work]") {
  Sitting sitting;
  const std::string told = sitting.work("no --minutes 5\nno\n");
  CHECK_THAT(told, Contains("Left today: about 35 min.") && Contains("Left today: about 34 min."));
}

TEST_CASE("what is taken back takes its minutes back", "[cli][work]") {
  Sitting sitting;
  const std::string told = sitting.work("no --minutes 25\nback\nno --minutes 10\n");
  CHECK_THAT(told, Contains("Left today: about 15 min.") && Contains("Left today: about 40 min.") &&
                       Contains("Left today: about 30 min."));
}

TEST_CASE("when nothing fits any more, that is said and nothing else", "[cli][work]") {
  Sitting sitting;
  const std::string told = sitting.work("no --minutes 40\n");
  CHECK_THAT(told, Contains("Left today: about 0 min.") &&
                       Contains("Nothing that is worth doing fits into 0 min.") &&
                       Contains("'quit' leaves the job open"));
  CHECK_THAT(told, !Contains("worth its time against handing"));
}

}  // namespace tickover::cli_time_left_test
