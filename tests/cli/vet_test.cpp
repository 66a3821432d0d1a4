/// @file
/// `vet` through the program: statuses, machines, exceptions, predictions.
#include "engine/vet/vet.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/json_text.hpp"
#include "tests/support/knowledge.hpp"
#include "tests/support/program.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::cli_vet_test {
namespace {

using test::ProgramResult;
using Json = nlohmann::json;

struct Bench {
  Bench() { test::lay_out_bench(scratch); }
  ProgramResult run(const std::string& line) const {
    return test::run_in(scratch.folder(), test::words_of_line(line));
  }
  void change(const std::string& file, const Json& patch) const {
    scratch.write(file, test::text_of(test::json_of(scratch.read(file)).patch(patch), 2));
  }
  test::Scratch scratch;
};

ProgramResult shipped(const std::string& line) {
  const test::Scratch scratch;
  return test::run_program(
      {test::words_of_line(line), scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
}

}  // namespace

TEST_CASE("vet is content with a pack whose only remark is excepted", "[cli][vet]") {
  const Bench bench;
  const ProgramResult plain = bench.run("vet pack");
  CHECK(plain.status == 0);
  CHECK(plain.out.find("blind-spot") == std::string::npos);
  CHECK(plain.out.find("0 errors, 0 warnings, 0 notes, 1 excepted") != std::string::npos);
  const ProgramResult whole = bench.run("vet pack --all");
  CHECK(whole.out.find("warning blind-spot: seal-leaks") != std::string::npos);
  CHECK(whole.out.find("excepted: A pack this small") != std::string::npos);
}

TEST_CASE("vet answers no when a warning stands, with its place", "[cli][vet]") {
  const Bench bench;
  bench.change("pack/repairs.json", Json::parse(R"([{"op": "replace",
               "path": "/repairs/1/cautions", "value": []}])"));
  const ProgramResult text = bench.run("vet pack");
  CHECK(text.status == 1);
  CHECK(text.out.find("warning caution-missing: jet-clean, fuel-runs-out\n"
                      "  repairs.json#/repairs/1/cautions\n") != std::string::npos);
  const ProgramResult json = bench.run("vet pack --json");
  CHECK(json.status == 1);
  const Json report = test::json_of(json.out);
  CHECK(report["warnings"] == 1);
  CHECK(report["excepted"] == 1);
  CHECK(report["remarks"].size() == 2);
}

TEST_CASE("an exception that no remark needs is a remark", "[cli][vet]") {
  const Bench bench;
  bench.change("pack/exceptions.json", Json::parse(R"([{"op": "replace",
               "path": "/exceptions/0/about", "value": ["jet-blocked"]}])"));
  const ProgramResult got = bench.run("vet pack");
  CHECK(got.status == 1);
  CHECK(got.out.find("warning exception-not-used: jet-blocked\n"
                     "  exceptions.json#/exceptions/0\n") != std::string::npos);
  CHECK(got.out.find("warning blind-spot: seal-leaks\n") != std::string::npos);
}

TEST_CASE("a sheet that does not fit the pack is an error of the report", "[cli][vet]") {
  const Bench bench;
  Json sheet = test::base_sheet();
  sheet["wanted"].erase("fuel-flow");
  bench.scratch.write("knowledge/machines/other.json", test::text_of(sheet));
  const ProgramResult got = bench.run("vet pack");
  CHECK(got.status == 1);
  CHECK(got.out.find("error sheet: other\n") != std::string::npos);
  CHECK(bench.run("vet pack --machine tiny-twin").status == 0);
}

TEST_CASE("the shipped pack has no errors and every remark a known rule", "[cli][vet]") {
  const Json report = test::json_of(shipped("vet --json").out);
  CHECK(report["errors"] == 0);
  for (const Json& remark : report["remarks"]) {
    const auto& rules = vet::rules();
    CHECK(std::count(rules.begin(), rules.end(), remark["rule"].get<std::string>()) == 1);
    CHECK(remark["place"].get<std::string>().find(".json#/") != std::string::npos);
  }
}

TEST_CASE("the shipped pack vets clean: no error or warning stands unless excepted", "[cli][vet]") {
  const ProgramResult got = shipped("vet --json");
  CHECK(got.status == 0);
  const Json report = test::json_of(got.out);
  for (const Json& remark : report["remarks"]) {
    if (remark["severity"] == "note") continue;
    CAPTURE(remark["rule"], remark["about"], remark["text"]);
    CHECK(remark.contains("excepted"));
  }
  CHECK(report["warnings"] == 0);
}

TEST_CASE("every feature of a shipped sheet is asked for by the pack", "[cli][vet]") {
  for (const std::string& machine : test::shipped_machines()) {
    const ProgramResult got = shipped("open x.job --machine " + machine);
    CHECK(got.status == 0);
    CAPTURE(machine);
    CHECK(got.err.find("nothing in the pack asks for") == std::string::npos);
  }
}

TEST_CASE("no check, repair or layer of the shipped pack lacks a caution it calls for",
          "[cli][vet]") {
  CHECK(vet::about_cautions(test::shipped_pack()).empty());
}

TEST_CASE("a prediction names every symptom, in text and as data", "[cli][vet]") {
  const std::string text = shipped("vet --predict --machine single").out;
  const Json data = test::json_of(shipped("vet --predict --machine single --json").out);
  CHECK(data["machine"] == "single");
  CHECK(data["symptoms"].size() > 20);
  double last = 1;
  for (const Json& symptom : data["symptoms"]) {
    CHECK(text.find("(" + symptom["symptom"].get<std::string>()) != std::string::npos);
    CHECK(symptom["present"] <= last);
    last = symptom["present"];
  }
  const Json aged =
      test::json_of(shipped("vet --predict --machine single --risk old-rubber --json").out);
  CHECK(aged["faults"] > data["faults"]);
  CHECK(shipped("vet --risk old-rubber").status == 2);
}

TEST_CASE("one sheet alone leaves no exception without its use", "[cli][vet]") {
  const ProgramResult one = shipped("vet --machine twin-parallel");
  CHECK(one.status == 0);
  CHECK(one.out.find("exception-not-used") == std::string::npos);
}

}  // namespace tickover::cli_vet_test
