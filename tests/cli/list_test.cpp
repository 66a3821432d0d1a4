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

}  // namespace
}  // namespace tickover::cli_list_test
