/// @file
/// What a machine's own sheet can name is told, with what asks for it.
#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>

#include "tests/support/json_text.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::cli_list_test {
namespace {

test::ProgramResult listed(std::vector<std::string> words) {
  const test::Scratch scratch;
  words.insert(words.begin(), {"list", "features"});
  return test::run_program({std::move(words), scratch.folder(), TICKOVER_SOURCE "/knowledge"});
}

/// Whatever stands under "needs", anywhere in the file.
void add_needs(const nlohmann::json& node, std::set<std::string>& needs) {
  if (!node.is_structured()) return;
  for (const auto& [name, value] : node.items()) {
    if (node.is_object() && name == "needs") needs.insert(value.begin(), value.end());
    add_needs(value, needs);
  }
}

TEST_CASE("every feature that the pack asks for is listed, and no other", "[cli][list]") {
  std::set<std::string> wanted;
  for (const char* file : {"causes", "findings", "checks", "repairs", "access"}) {
    const std::string text = test::source_text(fmt::format("knowledge/carburettor/{}.json", file));
    add_needs(test::json_of(text), wanted);
  }
  CHECK(wanted.erase("multi") == 1);  // the number of carburettors tells
  std::set<std::string> told;
  const nlohmann::json list = test::json_of(listed({"--json"}).out);
  for (const auto& entry : list.at("entries")) told.insert(entry.at("id").get<std::string>());
  CHECK(told == wanted);
  CHECK(told.size() > 20);
}

TEST_CASE("a feature is found by what asks for it", "[cli][list]") {
  const test::ProgramResult all = listed({}), some = listed({"diaphragm"});
  CHECK(some.status == 0);
  CHECK(some.out.size() < all.out.size());
  CHECK_THAT(some.out, Catch::StartsWith("air-cut-valve ") && Catch::Contains("\ncv "));
  CHECK_THAT(some.out, !Catch::Contains("airbox") && !Catch::Contains(" more"));
  CHECK_THAT(all.out, Catch::Contains(" more"));
}

nlohmann::json single_sheet() {
  return test::json_of(test::source_text("knowledge/machines/single.json"));
}

/// A job opened with a sheet of one's own; `vet` finds as much against the sheet.
test::ProgramResult opened_with(const nlohmann::json& sheet) {
  const test::Scratch scratch;
  scratch.write("own.json", test::text_of(sheet));
  const auto run = [&](const std::vector<std::string>& words) {
    return test::run_program({words, scratch.folder(), TICKOVER_SOURCE "/knowledge"});
  };
  test::ProgramResult got = run({"open", "bike.job", "--machine", "./own.json"});
  CHECK(scratch.files().count("bike.job") == (got.status == 0));
  const bool clean = got.status == 0 && got.err.empty();
  CHECK((run({"vet", "--machine", "./own.json"}).status == 0) == clean);
  return got;
}

/// With these features for "slide".
test::ProgramResult opened_with_features(const std::vector<std::string>& features) {
  nlohmann::json sheet = single_sheet();
  nlohmann::json& named = sheet["features"];
  named.erase(std::find(named.begin(), named.end(), "slide"));
  for (const std::string& feature : features) named.push_back(feature);
  return opened_with(sheet);
}

test::ProgramResult opened_with_figure(const std::string& key, const nlohmann::json& figure) {
  nlohmann::json sheet = single_sheet();
  sheet["wanted"][key] = figure;
  return opened_with(sheet);
}

TEST_CASE("a sheet names one of the features that shut each other out", "[cli][list]") {
  const test::ProgramResult one = opened_with_features({"slide"}),
                            both = opened_with_features({"slide", "cv"}),
                            neither = opened_with_features({});
  CHECK(one.status == 0);
  CHECK(one.err.empty());
  CHECK(both.status == 65);
  CHECK_THAT(both.err, Catch::Contains("it cannot be slide and cv at once"));
  CHECK(neither.status == 0);
  CHECK_THAT(neither.err, Catch::Contains("none of the features slide and cv is named"));
}

TEST_CASE("a figure beyond what can be opens no job", "[cli][list]") {
  const auto refused = [](const std::string& key, const nlohmann::json& figure) {
    const test::ProgramResult got = opened_with_figure(key, figure);
    CHECK(got.status == 65);
    CHECK_THAT(got.err, Catch::Contains("/wanted/" + key));
    return got.err;
  };
  CHECK_THAT(refused("float-height", {{"value", 17}, {"tolerance", 1}, {"unit", "inch"}}),
             Catch::Contains("17 inch is beyond what can be: 2 to 40 mm") &&
                 Catch::Contains("did you mean 17 mm?"));
  CHECK_THAT(refused("compression", {{"value", 12}, {"tolerance", 1.5}, {"unit", "MPa"}}),
             Catch::Contains("beyond what can be: 0 to 2500 kPa"));
}

TEST_CASE("a figure that may be a slip opens a job, and is told", "[cli][list]") {
  const auto told = [](const std::string& key, double value, double tolerance,
                       const std::string& unit) {
    const test::ProgramResult got =
        opened_with_figure(key, {{"value", value}, {"tolerance", tolerance}, {"unit", unit}});
    CHECK(got.status == 0);
    return got.err;
  };
  CHECK_THAT(told("compression", 12, 150, "kPa"), Catch::Contains("12 kPa is next to nothing") &&
                                                      Catch::Contains("did you mean 12 bar?"));
  CHECK_THAT(told("float-height", 17, 18, "mm"), Catch::Contains("is larger than its value"));
  CHECK_THAT(told("float-heigth", 17, 1, "mm"), Catch::Contains("nearest: float-height"));
  CHECK(told("chain-slack", 30, 5, "mm").empty());  // for the mechanic's own use
  CHECK(told("leak-down", 10, 10, "%").empty());
  CHECK(told("fuel-level", 1, 1.5, "mm").empty());
}

TEST_CASE("a feature that nothing asks for is told", "[cli][list]") {
  const test::ProgramResult got = opened_with_features({"slide", "side-car"});
  CHECK(got.status == 0);
  CHECK_THAT(got.err, Catch::Contains("nothing in the pack asks for the feature 'side-car'"));
}

}  // namespace
}  // namespace tickover::cli_list_test
