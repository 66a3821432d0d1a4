/// @file
/// What a machine's own sheet can name is told, with what asks for it.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <set>

#include "tests/support/json_text.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover {
namespace {

test::ProgramResult listed(std::vector<std::string> words) {
  const test::Scratch scratch;
  words.insert(words.begin(), {"list", "features"});
  return test::run_program({std::move(words), scratch.folder(), TICKOVER_SOURCE "/knowledge"});
}

TEST_CASE("every feature that the pack asks for is listed, and no other", "[cli][list]") {
  std::set<std::string> wanted;
  const pack::Pack& pack = test::shipped_pack();
  const auto add = [&](const auto& entries) {
    for (const auto& entry : entries) wanted.insert(entry.needs.begin(), entry.needs.end());
  };
  add(pack.causes);
  add(pack.repairs);
  add(pack.checks);
  add(pack.findings);
  add(pack.layers);
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
  CHECK_THAT(some.out, Catch::StartsWith("air-cut-valve ") || Catch::Contains("\ncv "));
  CHECK_THAT(some.out, !Catch::Contains("airbox") && !Catch::Contains(" more"));
  CHECK_THAT(all.out, Catch::Contains(" more"));
}

}  // namespace
}  // namespace tickover
