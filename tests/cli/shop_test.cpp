/// @file
/// The shop's file: what is wrong with it is told by place, and its prices reach the answer.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/json_text.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::cli_shop_test {
namespace {

using test::Scratch;

const std::string kKnowledge = std::string(TICKOVER_SOURCE) + "/knowledge";

std::string shop_text() { return test::source_text("knowledge/shops/invented.json"); }

std::string replaced(std::string text, const std::string& what, const std::string& with) {
  const std::size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), with);
}

test::ProgramResult next_with(const std::string& shop, const std::vector<std::string>& more = {}) {
  const Scratch scratch;
  scratch.write("shop.json", shop);
  const auto run = [&](std::vector<std::string> words) {
    return test::run_program({std::move(words), scratch.folder(), kKnowledge});
  };
  run({"open", "a.job", "--machine", "single"});
  run({"record", "a.job", "idle-hunts", "clear"});
  std::vector<std::string> words = {"next", "a.job", "--shop", "shop.json"};
  words.insert(words.end(), more.begin(), more.end());
  return run(std::move(words));
}

}  // namespace

TEST_CASE("prices reach the answer", "[cli][shop]") {
  const test::ProgramResult told = next_with(shop_text());
  CHECK(told.status == 0);
  CHECK(told.out.find(" EUR until it is gone or handed on: work ") != std::string::npos);
  const auto money = test::json_of(next_with(shop_text(), {"--json"}).out).at("money");
  CHECK(money.at("currency") == "EUR");
  CHECK(money.at("hour") == 62);
}

TEST_CASE("prices in options do what a file does, and go before it", "[cli][shop]") {
  const auto money = [](const std::string& shop, const std::vector<std::string>& more) {
    std::vector<std::string> words = {"--json"};
    words.insert(words.end(), more.begin(), more.end());
    return test::json_of(next_with(shop, words).out).at("money");
  };
  const std::string bare =
      R"({"format": 1, "name": "b", "invented": true, "currency": "EUR", "hour": 62, "hand-on": 700,
          "comeback": 150, "parts": {"pilot jet": 6.5}, "consumables": {"gas-bench-each": 0.5}})";
  const auto said = money(R"({"format": 1, "name": "b", "invented": true, "currency": "EUR",
                              "hour": 1, "comeback": 3, "parts": {"pilot jet": 400}})",
                          {"--hour", "62 EUR", "--hand-on", "700", "--comeback", "150EUR",
                           "--price", "pilot jet=6.5", "--price", "gas-bench-each=0.5"});
  CHECK(said == money(bare, {}));
  CHECK(said == money(bare, {"--price", "pilot jet=6,5,gas-bench-each=0,5"}));
  CHECK(said.at("course-comebacks") > 0);
  CHECK(said.at("course-comebacks") != money(bare, {"--comeback", "300"}).at("course-comebacks"));
  const test::ProgramResult told = next_with(bare);
  CHECK(told.out.find(", comebacks ") != std::string::npos);
}

TEST_CASE("each part's price is told, and which part has none", "[cli][shop]") {
  const std::vector<std::string> prices = {"--price", "pilot jet=6.5"};
  const std::string bare =
      R"({"format": 1, "name": "b", "invented": true, "currency": "EUR", "hour": 62})";
  const test::ProgramResult told = next_with(bare, prices);
  const std::size_t apiece = told.out.find("Parts apiece: "), none = told.out.find("No price is");
  REQUIRE(apiece != std::string::npos);
  REQUIRE(none != std::string::npos);
  CHECK(told.out.substr(apiece, none - apiece).find(" 6.5 EUR") != std::string::npos);
  const auto parts = test::json_of(next_with(bare, {"--price", "pilot jet=6.5", "--json"}).out)
                         .at("money")
                         .at("parts");
  std::size_t priced = 0;
  for (const auto& part : parts) {
    const bool jet = part.at("part").get<std::string>().starts_with("pilot jet");
    CHECK(part.at("price").is_null() == !jet);
    priced += jet;
  }
  CHECK(priced > 0);
  CHECK(priced < parts.size());
}

TEST_CASE("prices in options that are none are refused", "[cli][shop][errors]") {
  const auto refusal = [](const std::vector<std::string>& more) {
    const test::ProgramResult told = next_with(shop_text(), more);
    CHECK(told.status == 2);
    CHECK(told.out.empty());
    return told.err;
  };
  CHECK(refusal({"--hour", "62 USD"}) ==
        "tickover: --hour: the other prices are in EUR, not in USD\n");
  CHECK(refusal({"--hour", "0"}) == "tickover: --hour: an hour of work should cost more than 0\n");
  CHECK(refusal({"--comeback", "-3"}) ==
        "tickover: --comeback: it should be an amount from 0 to 1000000\n");
  CHECK(refusal({"--comeback", "much"}) ==
        "tickover: --comeback: 'much' is no amount of money\n  for instance: '62 EUR'\n");
  CHECK(refusal({"--price", "24"}) ==
        "tickover: --price: '24' should be a name and an amount\n"
        "  for instance: --price 'intake rubber=24'\n");
  CHECK(refusal({"--price", "pilot jet=6", "--price", "24"}) ==
        "tickover: --price: '24' should be a name and an amount\n"
        "  for instance: --price 'intake rubber=24'\n");
  for (const char* currency : {"62 2", "62 ;", "62 \x1b[31m"}) {
    CHECK_THAT(refusal({"--hour", currency}), Catch::Contains("is no currency"));
  }
  CHECK(refusal({"--price", "pilot jett=24"}) ==
        "tickover: --price: no part named 'pilot jett'\n  nearest: pilot jet\n");
}

TEST_CASE("a part whose name holds commas has its price, alone and among others", "[cli][shop]") {
  const auto money = [](const std::vector<std::string>& more) {
    std::vector<std::string> words = {"--json", "--hour", "62 EUR"};
    words.insert(words.end(), more.begin(), more.end());
    return test::json_of(next_with(shop_text(), words).out).at("money");
  };
  const auto apart = money({"--price", "pilot jet=7.5", "--price",
                            "cap, screw with washer, or vacuum hose=9.5", "--price", "plug=7"});
  CHECK(apart != money({}));
  CHECK(money({"--price",
               "pilot jet=7,5, cap, screw with washer, or vacuum hose = 9,50 EUR, plug=7"}) ==
        apart);
  const test::ProgramResult told = next_with(shop_text(), {"--price", "cap, skrew=9"});
  CHECK(told.status == 2);
  CHECK_THAT(told.err, Catch::Contains("no part named 'cap, skrew'"));
}

TEST_CASE("a shop's file that is wrong is refused by place", "[cli][shop][errors]") {
  const auto refusal = [](const std::string& what, const std::string& with) {
    const test::ProgramResult told = next_with(replaced(shop_text(), what, with));
    CHECK(told.status == 65);
    CHECK(told.out.empty());
    return told.err;
  };
  CHECK(refusal("\"hour\": 62", "\"hour\": 0") ==
        "tickover: shop.json#/hour: should be what an hour of work costs, above 0 to 1000000\n");
  CHECK(refusal("\"hour\"", "\"hours\"") ==
        "tickover: shop.json: no field named 'hours'\n  nearest: hour\n");
  CHECK(refusal("\"pilot jet\"", "\"pilot jett\"") ==
        "tickover: shop.json#/parts: no part named 'pilot jett'\n  nearest: pilot jet\n");
  CHECK(refusal("\"gas-bench-each\"", "\"gas-bench-eech\"") ==
        "tickover: shop.json#/consumables: no check, question or repair named 'gas-bench-eech'\n"
        "  nearest: gas-bench-each\n");
  CHECK(
      refusal("leak-down tester", "leak-dawn tester") ==
      "tickover: shop.json#/tools-missing: no tool named 'leak-dawn tester'\n  nearest: leak-down "
      "tester\n");
}

}  // namespace tickover::cli_shop_test
