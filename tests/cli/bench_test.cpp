/// @file
/// The bench sheet through the program, on machines of one to six cylinders.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/print.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::cli_bench_test {
namespace {

using Json = nlohmann::json;

/// A job on that machine with readings of every kind, as found and as left.
struct BenchJob {
  explicit BenchJob(const std::string& machine) {
    run("open bike.job --machine " + machine + " --complaint hangs");
    run("record bike.job idle-hunts clear");
    run("record bike.job float-height --cyl 1 24mm --confirm");
    run("record bike.job compression --cyl all '1150 kPa'");
    run("record bike.job exhaust-gas --cyl 1 'CO 0.3% CO2 13.0% HC 180ppm O2 2.6%'");
    run("repair bike.job set-float --cyl 1");
    run("record bike.job float-height --cyl 1 17.5mm");
  }

  std::string run(const std::string& line) const {
    const test::ProgramResult result = test::run_program(
        {test::words_of_line(line), scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
    CAPTURE(line, result.err);
    CHECK(result.status == 0);
    return result.out;
  }

  test::Scratch scratch;
};

Json reading_of(const Json& sheet, const std::string& finding) {
  for (const Json& reading : sheet["readings"]) {
    if (reading["finding"] == finding) return reading;
  }
  FAIL("no reading " << finding);
  return {};
}

}  // namespace

TEST_CASE("the bench sheet fits a terminal on every machine", "[cli][bench]") {
  for (const std::string& machine : test::shipped_machines()) {
    CAPTURE(machine);
    std::istringstream sheet(BenchJob(machine).run("bench bike.job"));
    std::string line;
    std::size_t lines = 0;
    for (; std::getline(sheet, line); ++lines) {
      CAPTURE(line);
      CHECK(cli::columns_of(line) <= cli::kColumns);
      CHECK((line.empty() || line.back() != ' '));
    }
    CHECK(lines > 20);
  }
}

TEST_CASE("the bench sheet keeps as found and as left, and tells gaps", "[cli][bench]") {
  const BenchJob job("four-inline");
  const Json sheet = Json::parse(job.run("bench bike.job --json"));
  const Json height = reading_of(sheet, "float-height");
  CHECK(height["wanted"] == "17.5 mm");
  CHECK(height["limits"] == "16.5 mm to 18.5 mm");
  CHECK(height["checks"] == Json::array({"float-height-measure"}));
  REQUIRE(height["places"].size() == 4);
  const Json& taken = height["places"][0]["taken"];
  REQUIRE(taken.size() == 2);
  CHECK(taken[0]["as-left"] == false);
  CHECK(taken[0]["beyond"] == true);
  CHECK(taken[0]["verdict"] == "above 18.5 mm");
  CHECK(taken[0]["speaks-for"][0]["cause"] == "float-level-low@1");
  CHECK(taken[0]["speaks-for"][0]["decibans"].get<double>() > 3);
  CHECK(taken[1]["as-left"] == true);
  CHECK(taken[1]["beyond"] == false);
  CHECK(height["places"][1]["taken"].empty());
  CHECK(reading_of(sheet, "idle-vacuum")["places"][0]["taken"].empty());
  const std::string text = job.run("bench bike.job");
  CHECK_THAT(text, Catch::Contains("to be measured") && Catch::Contains("vacuum-compare"));
}

// Without taps the gas of one cylinder is sampled where a silencer is its own: taken as it comes,
// closed up for it, and not asked for.
TEST_CASE("what no check of the machine measures is not asked for", "[cli][bench]") {
  const auto asks = [](const BenchJob& job) {
    const Json sheet = Json::parse(job.run("bench bike.job --json"));
    return std::any_of(sheet["readings"].begin(), sheet["readings"].end(),
                       [](const Json& one) { return one["finding"] == "exhaust-gas"; });
  };
  const BenchJob job("twin-parallel");
  CHECK(asks(job));  // one was taken
  job.run("strike bike.job 5 --reason slip");
  CHECK_FALSE(asks(job));
  CHECK(asks(BenchJob("twin-v")));
  const std::string taken =
      job.run("record bike.job gas-bench-each --cyl 2 'CO 3% CO2 12.9% HC 200ppm O2 0.6%'");
  CHECK_THAT(taken, Catch::Contains("Taken as closed up before it: ") &&
                        Catch::Contains("Carburettors off"));
}

TEST_CASE("what the whole engine's gas tells need not be measured", "[cli][bench]") {
  const BenchJob job("single");
  job.run("record bike.job tailpipe-gas 'CO 3% CO2 12.9% HC 200ppm O2 0.6%'");
  const Json sheet = Json::parse(job.run("bench bike.job --json"));
  CHECK(reading_of(sheet, "idle-co")["places"][0]["told"] == true);
}

}  // namespace tickover::cli_bench_test
