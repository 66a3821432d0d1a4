/// @file
/// What the shipped pack must cover: how much, a cure for everything, and nothing that no shipped
/// machine can have.
#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::practice_breadth_test {
namespace {

const pack::Pack& shipped() { return test::shipped_pack(); }

std::size_t count_of(pack::Kind kind) {
  const auto& all = shipped().findings;
  return static_cast<std::size_t>(std::count_if(
      all.begin(), all.end(), [&](const pack::Finding& one) { return one.kind == kind; }));
}

std::vector<Machine> machines() {
  std::vector<Machine> all;
  for (const std::string& name : test::shipped_machines()) {
    all.push_back(load_machine(test::shipped_sheet(name), test::machine_schema(), name));
  }
  return all;
}

}  // namespace

TEST_CASE("the pack is as broad as promised", "[practice]") {
  CHECK(shipped().causes.size() >= 60);
  CHECK(count_of(pack::Kind::symptom) >= 25);
  CHECK(shipped().checks.size() >= 100);
  CHECK(shipped().repairs.size() >= 50);
  CHECK(shipped().risks.size() >= 12);
  CHECK(shipped().layers.size() >= 10);
  CHECK(shipped().words.size() >= 200);
}

TEST_CASE("every cause has a repair and a machine, every feature needed is one of a machine",
          "[practice]") {
  std::set<std::size_t> repaired;
  for (const pack::Repair& repair : shipped().repairs) {
    for (const pack::Removal& removal : repair.removes) repaired.insert(removal.cause);
  }
  const std::vector<Machine> all = machines();
  for (std::size_t i = 0; i < shipped().causes.size(); ++i) {
    CAPTURE(shipped().causes[i].id);
    CHECK(repaired.count(i) == 1);
    for (const std::string& feature : shipped().causes[i].needs) {
      CAPTURE(feature);
      CHECK(std::any_of(all.begin(), all.end(),
                        [&](const Machine& one) { return one.has(feature); }));
    }
  }
}

TEST_CASE("every symptom can be told in a rider's words, and no phrase twice", "[practice]") {
  std::set<std::size_t> told;
  std::set<std::string> said;
  for (const pack::Words& words : shipped().words) {
    told.insert(words.means.begin(), words.means.end());
    CAPTURE(words.say);
    CHECK(said.insert(words.say).second);
  }
  for (std::size_t i = 0; i < shipped().findings.size(); ++i) {
    if (shipped().findings[i].kind != pack::Kind::symptom) continue;
    CAPTURE(shipped().findings[i].id);
    CHECK(told.count(i) == 1);
    CHECK_FALSE(shipped().findings[i].ask.empty());
  }
}

}  // namespace tickover::practice_breadth_test
