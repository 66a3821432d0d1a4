/// @file
/// What is heard and seen after a road test, or left in spite of it, is not passed over.
#include <catch2/catch.hpp>

#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::cli_after_road_test_test {
namespace {

struct Job {
  explicit Job(const std::string& machine) {
    run("open bike.job --machine " + machine + " --complaint surges");
    run("record bike.job steady-surge clear");
  }

  std::string run(const std::string& line) const {
    return test::run_program({test::words_of_line(line), scratch.folder(),
                              std::string(TICKOVER_SOURCE) + "/knowledge"})
        .out;
  }

  test::Scratch scratch;
};

}  // namespace

TEST_CASE("what the rider tells after a cure opens the job again", "[cli][verify]") {
  const Job job("triple-inline");
  job.run("repair bike.job clean-pilot --cyl all");
  CHECK_THAT(job.run("verify bike.job gone"), Catch::Contains("The complaint is gone"));
  const std::string told = job.run("record bike.job overrun-popping clear");
  CHECK_THAT(told, !Catch::Contains("The complaint is gone") && Catch::Contains("most probable"));
  CHECK_THAT(job.run("next bike.job"), Catch::StartsWith("Next  "));
  CHECK_THAT(job.run("sheet bike.job --for rider"),
             Catch::Contains("part of the complaint has gone"));
  CHECK_THAT(job.run("verify bike.job gone"), Catch::Contains("The complaint is gone"));
}

TEST_CASE("the complaint back after a cure is there still", "[cli][verify]") {
  const Job job("triple-inline");
  job.run("repair bike.job clean-pilot --cyl all");
  job.run("verify bike.job gone");
  job.run("record bike.job steady-surge clear");
  CHECK_THAT(job.run("sheet bike.job --for rider"),
             Catch::Contains("the complaint is still there"));
}

TEST_CASE("still there means as it was heard last", "[cli][verify]") {
  const Job job("triple-inline");
  job.run("repair bike.job clean-pilot --cyl all");
  job.run("verify bike.job still");
  job.run("record bike.job steady-surge slight");
  job.run("repair bike.job close-vacuum-port --cyl 1");
  CHECK_THAT(job.run("verify bike.job still"), !Catch::Contains("since a repair"));
  CHECK_THAT(job.run("record bike.job steady-surge clear"),
             Catch::Contains("New, or stronger, since a repair"));
}

TEST_CASE("what was found and left is told when the complaint is gone", "[cli][verify]") {
  const Job job("twin-parallel");
  job.run("record bike.job rubber-check-off --cyl 1 split");
  job.run("record bike.job float-height --cyl 1 24mm --confirm");
  job.run("repair bike.job clean-pilot --cyl 1");
  const std::string gone = job.run("verify bike.job gone");
  CHECK_THAT(gone, Catch::Contains("Seen, and not repaired") &&
                       Catch::Contains("carburettors off, cylinder 1: split"));
  CHECK_THAT(gone, Catch::Contains("Out of limits as it stands"));
  CHECK_THAT(job.run("review bike.job"), Catch::Contains("Out of limits, and left so"));
  const std::string finished = job.run("finish bike.job --cause pilot-jet-blocked");
  CHECK_THAT(finished, Catch::Contains("Seen, and not repaired") &&
                           Catch::Contains("Out of limits as it stands"));
  CHECK_THAT(job.run("sheet bike.job --for rider"),
             Catch::Contains("lifted from its flange; not repaired"));
}

TEST_CASE("what was probable as found and no entry repairs is told", "[cli][verify]") {
  const Job job("four-inline");
  job.run("record bike.job fades-under-load yes");
  job.run("record bike.job port-count --cyl 2 open");
  job.run("record bike.job cap-open-test yes");
  job.run("repair bike.job close-vacuum-port --cyl 2");
  const std::string gone = job.run("verify bike.job gone");
  CHECK_THAT(gone,
             Catch::Contains("no entry repairs it") && Catch::Contains("- Tank vent blocked"));
  const std::string rider = job.run("sheet bike.job --for rider");
  const std::string watch = rider.substr(std::min(rider.find("What to watch"), rider.size()));
  CHECK_THAT(watch, Catch::Contains("Tank vent blocked"));
  job.run("strike bike.job 7 --reason slip");
  job.run("repair bike.job clear-tank-vent");
  CHECK_THAT(job.run("verify bike.job gone"), !Catch::Contains("no entry repairs it"));
}

TEST_CASE("a cause named and not repaired is for the rider to watch", "[cli][verify]") {
  const Job job("triple-inline");
  job.run("repair bike.job renew-intake-rubber --cyl 2");
  job.run("verify bike.job gone");
  job.run("finish bike.job --cause intake-rubber-cracked@3");
  const std::string sheet = job.run("sheet bike.job --for rider");
  const std::size_t watch = sheet.find("## What to watch");
  REQUIRE(watch != std::string::npos);
  CHECK_THAT(sheet.substr(watch), Catch::Contains("cylinder 3"));
}

}  // namespace tickover::cli_after_road_test_test
