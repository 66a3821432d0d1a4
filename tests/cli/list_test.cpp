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

/// A sheet of one's own: the single's with these features for "slide".
test::ProgramResult opened_with(const std::vector<std::string>& features) {
  nlohmann::json sheet = test::json_of(test::source_text("knowledge/machines/single.json"));
  nlohmann::json& named = sheet["features"];
  named.erase(std::find(named.begin(), named.end(), "slide"));
  for (const std::string& feature : features) named.push_back(feature);
  const test::Scratch scratch;
  scratch.write("own.json", test::text_of(sheet));
  test::ProgramResult got = test::run_program({{"open", "bike.job", "--machine", "./own.json"},
                                               scratch.folder(),
                                               TICKOVER_SOURCE "/knowledge"});
  CHECK(scratch.files().count("bike.job") == (got.status == 0));
  return got;
}

TEST_CASE("a sheet names one of the features that shut each other out", "[cli][list]") {
  const test::ProgramResult one = opened_with({"slide"}), both = opened_with({"slide", "cv"}),
                            neither = opened_with({});
  CHECK(one.status == 0);
  CHECK(one.err.empty());
  CHECK(both.status == 65);
  CHECK_THAT(both.err, Catch::Contains("it cannot be slide and cv at once"));
  CHECK(neither.status == 0);
  CHECK_THAT(neither.err, Catch::Contains("none of the features slide and cv is named"));
}

}  // namespace
}  // namespace tickover::cli_list_test
