/// @file
/// The shipped pack against rows of public trouble tables (tables.json, which tells source, section
/// and what was read). Misses are listed with a reason in explained.json, and must be misses.
#include <catch2/catch.hpp>
#include <iostream>
#include <nlohmann/json.hpp>

#include "tests/practice/ranking.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::practice_tables_test {
namespace {

using nlohmann::json;
using test::Rank;

std::vector<Rank> all_ranks() {
  std::vector<Rank> all;
  const json tables = test::practice("tables.json");
  for (const json& row : tables.at("rows")) {
    for (const Rank& rank : test::ranks_of(row)) all.push_back(rank);
  }
  REQUIRE(all.size() > 100);
  return all;
}

/// The reason given for a miss, or nothing.
std::string explanation(const json& explained, const Rank& rank) {
  for (const json& miss : explained) {
    if (miss.at("row") == rank.row && miss.at("printed") == rank.printed) return miss.at("reason");
  }
  return {};
}

/// What the pack expects of a group of causes on the machine, before any symptom.
double expected_of(const json& group, const std::vector<double>& before) {
  double sum = 0;
  for (const std::string id : group) {
    for (std::size_t i = 0; i < before.size(); ++i) {
      if (test::shipped_pack().causes[i].id == id) sum += before[i];
    }
  }
  return sum;
}

}  // namespace

TEST_CASE("causes of trouble tables rank in the top third for their symptom", "[practice]") {
  const json explained = test::practice("explained.json").at("misses");
  std::size_t missed = 0;
  for (const Rank& rank : all_ranks()) {
    CAPTURE(rank.row, rank.printed, rank.cause, rank.place, rank.rise, rank.causes);
    const bool excused = !explanation(explained, rank).empty();
    missed += excused ? 1 : 0;
    CHECK(rank.in_top_third() != excused);  // an explained miss that hits should leave the list
  }
  CHECK(missed == explained.size());  // each explanation belongs to a row
}

TEST_CASE("faults found by surveys are as frequent in the pack, by order", "[practice]") {
  const json tables = test::practice("tables.json");
  for (const json& order : tables.at("orders")) {
    const std::vector<double> before = test::expected_before(order.at("machine"));
    const json& groups = order.at("prior-order");
    for (std::size_t i = 1; i < groups.size(); ++i) {
      CAPTURE(order.at("id"), i);
      CHECK(expected_of(groups[i - 1], before) > expected_of(groups[i], before));
    }
  }
}

// tickover_tests "[measure][practice]" prints the list.
TEST_CASE("where the printed causes stand", "[.][measure][practice]") {
  for (const Rank& rank : all_ranks()) {
    std::cout << (rank.in_top_third() ? "  " : "! ") << rank.place << " (rise " << rank.rise
              << ") of " << rank.causes << "  " << rank.row << ": " << rank.printed << " -> "
              << rank.cause << "\n";
  }
}

}  // namespace tickover::practice_tables_test
