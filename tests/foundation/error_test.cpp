#include "engine/foundation/error.hpp"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

namespace tickover::foundation_error_test {
namespace {

std::string hint_for(const std::string& word, const std::vector<std::string>& known) {
  return unknown_name(InputFault::usage, "", "thing", word, known).hint();
}

const std::vector<std::string>& repairs() {
  static const std::vector<std::string> known = {
      "renew-fuel",   "renew-intake-rubber", "clean-pilot",     "fit-listed-pilot-jet",
      "clean-filter", "clean-tank",          "renew-fuel-line", "clean-pump",
      "clean-vents",  "seat-hose",           "turn-screw"};
  return known;
}

TEST_CASE("an unknown name is led to the slip first, then to names of the words typed",
          "[foundation]") {
  CHECK(hint_for("clean-pilt", repairs()) == "nearest: clean-pilot");
  CHECK(hint_for("renew-rubber", repairs()) == "nearest: renew-intake-rubber");
  CHECK(hint_for("pilot", repairs()) == "nearest: clean-pilot or fit-listed-pilot-jet");
  CHECK(hint_for("jet pilot", repairs()) == "nearest: fit-listed-pilot-jet");
}

TEST_CASE("a word of many names leads to some of them, one near none to all of few",
          "[foundation]") {
  CHECK(hint_for("clean", repairs()) ==
        "nearest: clean-pilot, clean-filter, clean-tank, clean-pump or others");
  CHECK(hint_for("gearbox", repairs()).empty());
  CHECK(hint_for("ok", {"gone", "still", "changed"}) == "choose gone, still or changed");
  CHECK(hint_for("", {"gone", "still"}) == "choose gone or still");
  CHECK(hint_for("ok", {}).empty());
}

TEST_CASE("words that are alike lead to the names that share most of them", "[foundation]") {
  CHECK(hint_for("cleaning-the-pump", repairs()) == "nearest: clean-pump");
  CHECK(hint_for("renewed hoses", repairs()) ==
        "nearest: renew-fuel, renew-intake-rubber, renew-fuel-line or seat-hose");
  CHECK(hint_for("cleaning everything", repairs()).empty());     // many names have that word
  CHECK(hint_for("the pump makes a noise", repairs()).empty());  // one word of five
}

TEST_CASE("where no name of many is near, it is told what shows them", "[foundation]") {
  const auto hint = [](const std::string& word) {
    return unknown_name(InputFault::usage, "", "thing", word, repairs(), "'tickover list'").hint();
  };
  CHECK(hint("gearbox") == "see 'tickover list'");
  CHECK(hint("clean-pilt") == "nearest: clean-pilot");
}

}  // namespace
}  // namespace tickover::foundation_error_test
