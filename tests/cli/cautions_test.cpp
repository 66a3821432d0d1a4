/// @file
/// Cautions through the program: whenever work is told of, gravest first, before any step.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/json_text.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::cli_cautions_test {
namespace {

std::string run(const test::Scratch& scratch, const std::string& line) {
  const test::ProgramResult result = test::run_program(
      {test::words_of_line(line), scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  CAPTURE(line, result.err);
  CHECK(result.err == "");
  return result.out;
}

/// Words after the first word, which is a signal word, as far as they stand on the first line.
std::vector<std::string> signal_words(const std::string& text) {
  std::vector<std::string> words;
  for (std::size_t at = 0; at != std::string::npos; at = text.find('\n', at)) {
    at = text.find_first_not_of('\n', at);
    if (at == std::string::npos) break;
    for (const std::string word : {"  DANGER ", "  WARNING ", "  CAUTION ", "  NOTICE "}) {
      if (text.compare(at, word.size(), word) == 0) words.push_back(word);
    }
  }
  return words;
}

bool gravest_first(const std::vector<std::string>& words) {
  const std::vector<std::string> order = {"  DANGER ", "  WARNING ", "  CAUTION ", "  NOTICE "};
  const auto rank = [&](const std::string& word) {
    return std::find(order.begin(), order.end(), word) - order.begin();
  };
  return std::is_sorted(words.begin(), words.end(),
                        [&](const auto& a, const auto& b) { return rank(a) < rank(b); });
}

/// `text` tells all of `cautions`, gravest first, and tells no step before.
void check_told(const pack::Pack& pack, const pack::Cautions& cautions, const std::string& text) {
  CAPTURE(text);
  const std::vector<std::string> words = signal_words(text);
  CHECK(words.size() == pack::by_grade(pack, cautions).size());
  CHECK(gravest_first(words));
  const std::size_t care = text.find("Take care\n"), how = text.find("\nHow\n");
  CHECK((cautions.empty() || care < how));
}

}  // namespace

TEST_CASE("before the first start after petrol was let out its caution is told",
          "[cli][cautions]") {
  const test::Scratch scratch;
  const std::string leak = "A drip of petrol on a hot exhaust";
  const auto running = [&] {  // proposals that run the engine, and whether each tells of it
    const auto told = nlohmann::json::parse(run(scratch, "next bike.job --top 20 --json"));
    std::vector<bool> tells;
    for (const auto& proposal : told.at("proposals")) {
      if (proposal.at("kind") != "check") continue;
      const pack::Pack& pack = test::shipped_pack();
      const auto id = proposal.at("check").get<std::string>();
      const pack::Check& check = pack.checks[*pack::find(pack.checks, id)];
      if (!check.running || !check.open.empty()) continue;
      tells.push_back(proposal.at("cautions").dump().find("fuel-leak-first-start") !=
                      std::string::npos);
    }
    CHECK(!tells.empty());
    return tells;
  };
  run(scratch, "open bike.job --machine single");
  run(scratch, "record bike.job idle-hunts clear");
  for (const bool tells : running()) CHECK_FALSE(tells);
  run(scratch, "strip bike.job carburettors");
  CHECK_THAT(run(scratch, "refit bike.job"), Catch::Contains(leak));
  for (const bool tells : running()) CHECK(tells);
  run(scratch, "record bike.job idle-watch clear");  // now it has run
  for (const bool tells : running()) CHECK_FALSE(tells);
}

TEST_CASE("cautions are ordered gravest first and none is told twice", "[pack][cautions]") {
  pack::Pack pack;
  using enum pack::Grade;
  for (const pack::Grade grade : {caution, danger, notice, warning, danger}) {
    pack.cautions.push_back({"", grade, "", "", {}});
  }
  CHECK(pack::by_grade(pack, {0, 1, 2, 3, 4}) == pack::Cautions{1, 4, 3, 0, 2});
  CHECK(pack::by_grade(pack, {4, 2, 4, 1, 2}) == pack::Cautions{4, 1, 2});
  CHECK(pack::by_grade(pack, {}).empty());
}

TEST_CASE("explain tells every caution of checks, repairs and layers before the steps",
          "[cli][cautions]") {
  const test::Scratch scratch;
  const pack::Pack& pack = test::shipped_pack();
  std::size_t told = 0;
  for (std::size_t i = 0; i < pack.checks.size(); i += 7) {
    check_told(pack, pack.checks[i].cautions, run(scratch, "explain " + pack.checks[i].id));
    told += pack.checks[i].cautions.size();
  }
  for (std::size_t i = 0; i < pack.repairs.size(); i += 7) {
    check_told(pack, pack.repairs[i].cautions, run(scratch, "explain " + pack.repairs[i].id));
  }
  for (const pack::Layer& layer : pack.layers) {
    check_told(pack, layer.cautions, run(scratch, "explain " + layer.id));
  }
  CHECK(told > 10);
}

TEST_CASE("strip, refit, repair and verify tell the cautions of that work", "[cli][cautions]") {
  const test::Scratch scratch;
  const pack::Pack& pack = test::shipped_pack();
  run(scratch, "open bike.job --machine four-inline --complaint hangs");
  run(scratch, "record bike.job idle-hunts clear");
  const auto layer = [&](const std::string& id) {
    return pack.layers[*pack::find(pack.layers, id)].cautions;
  };
  pack::Cautions opened = layer("side-panels");
  for (const std::size_t caution : layer("tank")) opened.push_back(caution);
  check_told(pack, opened, run(scratch, "strip bike.job tank"));
  check_told(pack, {}, run(scratch, "strip bike.job tank"));  // it was open already
  const std::size_t tank = *pack::find(pack.layers, "tank");
  for (const std::size_t caution : pack.layers[tank].first_start) opened.push_back(caution);
  for (const std::size_t caution : pack.frame.verify_cautions) opened.push_back(caution);
  check_told(pack, opened, run(scratch, "refit bike.job"));
  check_told(pack, {}, run(scratch, "refit bike.job"));  // closed already
  const std::string repaired = run(scratch, "repair bike.job tighten-clamp --cyl 1");
  pack::Cautions work = pack.repairs[*pack::find(pack.repairs, "tighten-clamp")].cautions;
  for (const std::size_t caution : layer("side-panels")) work.push_back(caution);
  check_told(pack, work, repaired);
  check_told(pack, pack.frame.verify_cautions, run(scratch, "verify bike.job still"));
}

TEST_CASE("what runs the engine tells the cautions of what stands open", "[cli][cautions]") {
  const test::Scratch scratch;
  const pack::Pack& pack = test::shipped_pack();
  run(scratch, "open bike.job --machine four-inline --complaint hangs");
  run(scratch, "record bike.job idle-hunts clear");
  run(scratch, "strip bike.job tank");
  const auto next = test::json_of(run(scratch, "next bike.job --top 99 --json"));
  std::size_t running = 0;
  for (const auto& proposal : next["proposals"]) {
    if (proposal["kind"] != "check") continue;
    const auto check = pack::find(pack.checks, proposal["check"].get<std::string>());
    if (!pack.checks[*check].running || proposal["minutes"]["close"] > 0) continue;
    std::vector<std::string> ids;
    for (const auto& caution : proposal["cautions"]) ids.push_back(caution["id"]);
    CAPTURE(pack.checks[*check].id);
    CHECK(std::count(ids.begin(), ids.end(), "auxiliary-tank") == 1);
    ++running;
  }
  CHECK(running > 3);
}

TEST_CASE("a proposal tells its cautions as data too", "[cli][cautions]") {
  const test::Scratch scratch;
  run(scratch, "open bike.job --machine four-inline --complaint hangs");
  run(scratch, "record bike.job idle-hunts clear");
  const auto next = test::json_of(run(scratch, "next bike.job --top 9 --json"));
  std::size_t told = 0;
  for (const auto& proposal : next["proposals"]) {
    for (const auto& caution : proposal["cautions"]) {
      CHECK(caution["text"].get<std::string>() != "");
      CHECK(pack::find(test::shipped_pack().cautions, caution["id"].get<std::string>()));
      ++told;
    }
  }
  CHECK(told > 0);
}

}  // namespace tickover::cli_cautions_test
