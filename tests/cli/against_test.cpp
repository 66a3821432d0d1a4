/// @file
/// Why not something else, as `next --against` tells it.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/single_bench.hpp"

namespace tickover::cli_against_test {
namespace {

using Catch::Contains;

class Bench : public test::SingleBench {
 public:
  test::ProgramResult against(const std::string& id, std::vector<std::string> more = {}) const {
    more.insert(more.begin(), {"--against", id});
    return next(more);
  }
  /// On one line, whatever the width.
  std::string told(const std::string& id, const std::vector<std::string>& more = {}) const {
    std::string text = against(id, more).out;
    for (char& c : text) c = c == '\n' ? ' ' : c;
    return text;
  }
};

}  // namespace

TEST_CASE("what comes first is that of next, and nothing stands against it", "[cli][next]") {
  const Bench bench;
  const auto first =
      nlohmann::json::parse(bench.run({"next", "bike.job", "--json"}).out).at("proposals").front();
  const std::string kind = first.at("kind");
  const std::string id = kind == "ask" ? first.at("symptom") : first.at("check");
  CHECK_THAT(bench.told(id), Contains("it comes first as it is"));
  const std::string headline = bench.run({"next", "bike.job"}).out.substr(6, 30);
  CHECK_THAT(bench.told("water-mist"), Contains(headline.substr(0, headline.find('\n'))));
}

TEST_CASE("what costs more by itself than with the first after it is told so", "[cli][next]") {
  const Bench bench;
  CHECK_THAT(bench.told("weak-wide-open"),
             Contains("1 min more on average until it is gone, what comes first done after it."));
  const std::string others = bench.run({"next", "bike.job", "--top", "30"}).out;
  CHECK_THAT(others, Contains("1 min more on average, what comes first"));
}

TEST_CASE("a repair is held against what comes first", "[cli][next]") {
  const Bench bench;
  const std::string told = bench.told("clean-pilot");
  CHECK_THAT(told, Contains("Why not ") && Contains(" more on average until it is gone") &&
                       Contains("would put it first by itself"));
  CHECK_THAT(bench.told("clean-pilot", {"--hour", "60 EUR"}), Contains(" EUR more on average"));
  CHECK_THAT(bench.told("renew-intake-rubber", {"--no-part", "intake rubber"}),
             Contains("To order first: intake rubber"));
}

TEST_CASE("what cannot be done now is told with its reason", "[cli][next]") {
  const Bench bench;
  CHECK_THAT(bench.told("idle-hunts"), Contains("it is answered already, by entry 2."));
  CHECK_THAT(bench.told("water-mist", {"--without", "water-mist"}), Contains("(--without)"));
  CHECK_THAT(bench.told("water-mist", {"--no-running"}), Contains("(--no-running)"));
  CHECK_THAT(bench.told("clean-pilot", {"--without", "clean-pilot"}), Contains("(--without)"));
  CHECK_THAT(bench.told("gas-bench", {"--no-tool", "probe extension"}),
             Contains("what is not in the shop: "));
  CHECK_THAT(bench.told("float-height", {"--left", "1"}), Contains("(--left)"));
  CHECK_THAT(bench.told("clean-pilot", {"--left", "1"}), Contains("(--left)"));
  CHECK(bench.run({"record", "bike.job", "water-mist", "unsure"}).status == 0);
  CHECK_THAT(bench.told("water-mist"), Contains("without a clear answer (entry "));
  CHECK(bench.run({"repair", "bike.job", "clean-pilot"}).status == 0);
  CHECK_THAT(bench.told("plug-look-pale"),
             Contains("of the engine as it last ran, which was before the repair of entry "));
  CHECK(bench.run({"refit", "bike.job"}).status == 0);
  CHECK_THAT(bench.told("steady-surge"), Contains("before the first repair"));
}

TEST_CASE("what nobody knows, or this machine lacks, is refused", "[cli][next][errors]") {
  const Bench bench;
  const test::ProgramResult unknown = bench.against("water-mst");
  CHECK(unknown.status == 2);
  CHECK_THAT(unknown.err,
             Contains("no check, question or repair named 'water-mst'") && Contains("water-mist"));
  const test::ProgramResult lacking = bench.against("balance-carburettors");
  CHECK(lacking.status == 2);
  CHECK_THAT(lacking.err, Contains("balance-carburettors"));
}

}  // namespace tickover::cli_against_test
