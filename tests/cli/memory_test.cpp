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

namespace tickover {
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
    nlohmann::json line = nlohmann::json::parse(text);
    Entry entry;
    entry.number = 1;
    entry.time = line.at("time");
    entry.event = Event::record;
    std::vector<std::string> last;
    for (const pack::Finding& finding : test::shipped_pack().findings) {
      const bool lacks = machine == "single" && !finding.needs.empty();
      if (finding.kind != pack::Kind::symptom || lacks) continue;
      if (!last.empty()) {
        ++entry.number;
        entry.what = last[2];
        entry.value = last[3];
        entry.cylinders =
            last.size() > 4 ? std::vector<std::size_t>{3} : std::vector<std::size_t>{};
        const std::string written = to_line(entry, line.at("sum"));
        line = nlohmann::json::parse(written);
        text += written;
      }
      last = {"record", job, finding.id, finding.levels.back()};
      if (finding.scope != pack::Scope::engine && machine != "single") {
        last.insert(last.end(), {"--cyl", "3"});
      }
    }
    scratch.write(job, text);
    run(last);
    CHECK(entry.number > 25);
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
}  // namespace tickover
