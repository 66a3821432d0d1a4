/// @file
/// The most that any job of the shipped knowledge may take: every symptom there is, on the machine
/// with most cylinders.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "engine/job/journal.hpp"
#include "tests/support/cases.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::cli_memory_test {
namespace {

constexpr std::size_t kMostKib = std::size_t{256} << 10;

TEST_CASE("no job takes more than 256 MiB", "[cli][memory][belief]") {
  const test::Scratch scratch;
  const auto run = [&](const std::vector<std::string>& words) {
    const test::ProgramResult result =
        test::run_program({words, scratch.folder(), TICKOVER_SOURCE "/knowledge"});
    CHECK(result.status == 0);
    if (!test::kSanitized) CHECK(result.peak_kib <= kMostKib);  // sanitizers take room of their own
    return result;
  };
  // but the last are written as `record` would, which works out what each changes
  const auto open_with_all = [&](const std::string& job, const std::string& machine) {
    run({"open", job, "--machine", machine});
    std::string text = scratch.read(job);
    std::vector<Entry> told;
    for (const pack::Finding& finding : test::shipped_pack().findings) {
      const bool single = machine == "single", lacks = single && !finding.needs.empty();
      if (finding.kind != pack::Kind::symptom || lacks) continue;
      Entry& entry = told.emplace_back();
      entry.event = Event::record;
      entry.number = told.size() + 1;
      entry.what = finding.id;
      entry.value = finding.levels.back();
      if (finding.scope != pack::Scope::engine && !single) entry.cylinders = {3};
    }
    CHECK(told.size() > 25);
    const Entry last = told.back();
    told.pop_back();
    nlohmann::json line = nlohmann::json::parse(text);
    for (Entry& entry : told) {
      entry.time = line.at("time");
      const std::string written = to_line(entry, line.at("sum"));
      line = nlohmann::json::parse(written);
      text += written;
    }
    scratch.write(job, text);
    std::vector<std::string> words = {"record", job, last.what, last.value};
    if (!last.cylinders.empty()) words.insert(words.end(), {"--cyl", "3"});
    run(words);
  };
  open_with_all("wide.job", "six-inline");
  const test::ProgramResult next = run({"next", "wide.job"});
  CHECK(next.out.find("Too many findings") != std::string::npos);  // as wide as can be
  run({"causes", "wide.job"});
  CHECK(run({"next", "wide.job", "--against", "clean-pilot"}).out.find("Too many findings") !=
        std::string::npos);
  open_with_all("single.job", "single");  // as wide, with fewer causes
  CHECK(run({"why", "single.job", "stale-fuel"}).out.find("only its own numbers") !=
        std::string::npos);
}

}  // namespace
}  // namespace tickover::cli_memory_test
