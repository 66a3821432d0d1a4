/// @file
/// How far 'next' looks ahead, and what it says of how good its plan is.
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/report.hpp"
#include "tests/support/single_bench.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::cli_next_test {
namespace {

using Catch::Contains;

class Bench : public test::SingleBench {
 public:
  nlohmann::json next(std::vector<std::string> more) const {
    more.emplace_back("--json");
    return nlohmann::json::parse(SingleBench::next(more).out);
  }
};

}  // namespace

TEST_CASE("next looks ahead at as many moments as it is told to", "[cli][next]") {
  const Bench bench;
  const nlohmann::json none = bench.next({"--nodes", "0"}), some = bench.next({"--nodes", "5"});
  CHECK(none["bound"]["nodes"] == 0);
  CHECK(some["bound"]["nodes"] == 5);
  CHECK(bench.next({"--nodes", "5"}) == some);
  CHECK(bench.run({"next", "bike.job", "--nodes", "-1"}).status == 2);
  CHECK(bench.run({"next", "bike.job", "--think", "-1"}).status == 2);
  CHECK(bench.run({"next", "bike.job", "--think", "soon"}).status == 2);
  CHECK(bench.run({"next", "bike.job", "--think", "0.02"}).status == 0);
  const auto word = bench.run({"next", "bike.job", "--nodes", "many"});
  CHECK(word.status == 2);
  CHECK(word.err == "tickover: 'many' is no whole number\n  --nodes wants one, such as 24\n");
  CHECK(bench.next({"--think", "0"})["bound"]["nodes"] == 0);
}

TEST_CASE("where there is nothing to advise programs are told of no proposal", "[cli][next]") {
  const Bench bench;
  CHECK(bench.run({"open", "mute.job", "--machine", "single"}).status == 0);
  const auto mute = bench.run({"next", "mute.job", "--json"});
  CHECK(mute.status == 0);
  CHECK(nlohmann::json::parse(mute.out)["proposals"].empty());
  CHECK(bench.run({"repair", "bike.job", "clean-pilot"}).status == 0);
  CHECK_FALSE(bench.next({})["proposals"].empty());
  CHECK(bench.run({"verify", "bike.job", "gone"}).status == 0);
  CHECK(bench.next({})["proposals"].empty());
  CHECK(bench.run({"finish", "bike.job"}).status == 0);
  CHECK(bench.next({})["proposals"].empty());
}

TEST_CASE("with a shop's prices all that is weighed is told as money", "[cli][next]") {
  const Bench bench;
  const auto told = bench.run({"next", "bike.job", "--top", "3", "--gap", "--shop",
                               std::string(TICKOVER_SOURCE) + "/knowledge/shops/invented.json"});
  CHECK(told.status == 0);
  CHECK_THAT(told.out, Contains(" EUR on average, with the checks"));
  CHECK_THAT(told.out, Contains(" EUR more on average"));
}

TEST_CASE("a machine that cannot be run cannot be proven", "[cli][next]") {
  const Bench bench;
  const std::string sure = "Whether the complaint is gone can only be told once";
  CHECK_THAT(bench.run({"next", "bike.job", "--no-running"}).out, Contains(sure));
  CHECK_THAT(bench.run({"next", "bike.job"}).out, !Contains(sure));
  CHECK(bench.run({"next", "bike.job", "--no-tool", "none"}).status == 2);
}

TEST_CASE("next tells how far from the best plan it is at most", "[cli][next]") {
  const Bench bench;
  const nlohmann::json answer = bench.next({});
  const double least = answer["bound"]["least-minutes"], known = answer["bound"]["known-minutes"];
  CHECK(0 < least);
  CHECK(least < known);
  CHECK(known <= answer["choice"]["course-minutes"]);
  CHECK_THAT(bench.run({"next", "bike.job", "--gap"}).out,
             Contains("No plan at all can take less"));
  CHECK_THAT(bench.run({"next", "bike.job"}).out, !Contains("No plan at all can take less"));
}

// The rest of a course depends on what its first look shows: it is told below, with the plan.
TEST_CASE("of a course next tells how its first look or repair is done", "[cli][next]") {
  test::JobWriter writer(test::shipped_sheet("four-inline"), {"old-rubber"});
  writer.record("speed-hangs", "clear");
  const Diagnosis& job = test::diagnose(writer);
  plan::Advice advice = job.advise();
  const auto course =
      std::find_if(advice.proposals.begin(), advice.proposals.end(),
                   [](const plan::Proposal& one) { return one.kind == plan::ActionKind::course; });
  REQUIRE(course != advice.proposals.end());
  std::vector<plan::CourseStep>& steps = course->batch.steps;
  std::stable_partition(steps.begin(), steps.end(),
                        [](const plan::CourseStep& step) { return step.look.has_value(); });
  const auto other = std::find_if(steps.begin(), steps.end(), [&](const plan::CourseStep& step) {
    return step.look && !alike(step, steps.front());
  });
  REQUIRE(steps.front().look);
  REQUIRE(other != steps.end());
  const pack::Pack& pack = job.model().pack;
  const pack::Check &first = pack.checks[steps.front().look->check],
                    &later = pack.checks[other->look->check];
  const std::string told = cli::proposal_in_words(job, {}, advice, *course, "bike.job");
  CHECK_THAT(told, Catch::StartsWith("Next  " + first.name));
  CHECK_THAT(told, Contains("It comes first in the plan below."));
  CHECK_THAT(told, Contains("Then  tickover record bike.job " + first.id));
  CHECK_THAT(told, !Contains(later.name));
  CHECK_THAT(told, !Contains(later.how.front().substr(0, 30)));
}

// Nothing tells the cylinders of a four apart before one of them has been looked at.
TEST_CASE("what stands alike at several places takes one line", "[cli][next]") {
  const Bench bench;
  CHECK(bench.run({"open", "four.job", "--machine", "four-inline"}).status == 0);
  CHECK(bench.run({"record", "four.job", "idles-only-propped", "yes"}).status == 0);
  const std::string alike = bench.run({"causes", "four.job", "--top", "3"}).out;
  const std::string name = "Pilot jet or pilot passage partly blocked";
  CHECK_THAT(alike, Contains(name + ", each of the 4"));
  CHECK_THAT(alike.substr(0, alike.find("Sets of")), !Contains(name + ", cylinder"));
  CHECK_THAT(bench.run({"next", "four.job"}).out, Contains("at one of the 4 cylinders, "));

  CHECK(bench.run({"record", "four.job", "cold-header", "--cyl", "2", "cold"}).status == 0);
  const std::string apart = bench.run({"causes", "four.job", "--top", "8"}).out;
  CHECK_THAT(apart, Contains(name + ", cylinder 2"));
  CHECK_THAT(apart, Contains(name + ", each of\n                       cylinders 1, 3 and 4"));
}

TEST_CASE("answers from a narrowed case say so, exact ones do not", "[cli][next]") {
  const Bench bench;
  CHECK(bench.run({"open", "four.job", "--machine", "four-inline"}).status == 0);
  for (const std::string symptom : {"idle-hunts=clear", "speed-hangs=slight", "spits-back=yes"}) {
    const std::size_t at = symptom.find('=');
    bench.run({"record", "four.job", symptom.substr(0, at), symptom.substr(at + 1)});
  }
  CHECK_THAT(bench.run({"next", "four.job"}).out, !Contains("hardly a doubt"));
  CHECK_THAT(bench.run({"sheet", "four.job"}).out, !Contains("hardly a doubt"));
  for (const std::string cylinder : {"1", "2", "3", "4"}) {
    bench.run({"record", "four.job", "idle-vacuum", "--cyl", cylinder, "28 kPa"});
    bench.run({"record", "four.job", "float-height", "--cyl", cylinder, "17.5 mm"});
    CHECK(bench
              .run({"record", "four.job", "gas-bench-each", "--cyl", cylinder,
                    "CO 3.1% CO2 12.8% HC 250ppm O2 0.6%"})
              .status == 0);
  }
  const std::vector<std::vector<std::string>> commands = {
      {"next", "four.job"},
      {"sheet", "four.job"},
      {"causes", "four.job"},
      {"why", "four.job", "pilot-jet-blocked", "--cyl", "3"},
      {"record", "four.job", "overrun-popping", "none"}};
  for (const auto& words : commands) {
    CAPTURE(words.front());
    std::string out = bench.run(words).out;
    std::replace(out.begin(), out.end(), '\n', ' ');
    CHECK_THAT(out, Contains("hardly a doubt of"));
  }
  const auto told = bench.run({"next", "four.job", "--json"}).out;
  CHECK_FALSE(nlohmann::json::parse(told)["exact"].get<bool>());
}

// Whatever the complaint: a machine that costs next to nothing to hand on is handed on.
TEST_CASE("where it hands on next says what to begin with all the same", "[cli][next]") {
  const Bench bench;
  CHECK(bench.run({"open", "four.job", "--machine", "four-inline"}).status == 0);
  bench.run({"record", "four.job", "idle-hunts", "clear"});
  const auto next = [&](const std::vector<std::string>& more) {
    std::vector<std::string> words = {"next", "four.job"};
    words.insert(words.end(), more.begin(), more.end());
    return bench.run(words).out;
  };
  const std::string told = next({"--hour", "60 EUR", "--hand-on", "1"});
  CHECK_THAT(told, Contains("Stop and hand the job on") && Contains("To go on all the same"));
  CHECK_THAT(next({}), !Contains("To go on all the same"));
}

}  // namespace tickover::cli_next_test
